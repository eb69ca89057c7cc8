using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using System.IO.Hashing;
using System.Text;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// The voice of espeak-ng, a program of its own, in any language that it knows. What it said is kept in a folder, so that
/// the same words are not spoken twice. Several threads may use it.
/// </summary>
public sealed class EspeakVoice : ICallVoice
{
    private const string Program = "espeak-ng";

    /// <summary>Words a minute, from an easy pace to the quickest that can be understood. Our own choice, by ear.</summary>
    private static readonly int[] WordsAMinute = [150, 190, 240, 300];

    private readonly string _language, _cache, _release;
    private readonly ConcurrentDictionary<(CallPart, int), float[]?> _words = new();

    private EspeakVoice(string language, string cache, string release) => (_language, _cache, _release) = (language, cache, release);

    /// <inheritdoc/>
    public int Paces => WordsAMinute.Length;

    /// <summary>The voice, or <c>null</c> where the program is not installed.</summary>
    /// <param name="language">As espeak-ng names it.</param>
    /// <param name="cache">The folder in which words are kept; made where it is missing.</param>
    /// <param name="namedAt">Where the language is named.</param>
    /// <exception cref="InputException">MX231 espeak-ng does not know the language.</exception>
    public static EspeakVoice? Find(string language, string cache, Place namedAt)
    {
        if (Run(["--version"]) is not { Code: 0 } version) return null;
        if (Run(["-q", "-v", language, "--", "1"]) is not { Code: 0 })
            throw new InputException(new Fault("MX231", namedAt, $"espeak-ng does not know the language \"{language}\"", "write one that espeak-ng --voices lists"));
        // "eSpeak NG text-to-speech: 1.51  Data at: ..." : what follows is where it lies on this machine.
        var release = Encoding.UTF8.GetString(version.Output).Split("Data at", 2)[0].Trim();
        return new EspeakVoice(language, cache, release);
    }

    /// <inheritdoc/>
    public float[]? Say(CallPart part, int pace) => _words.GetOrAdd((part, pace), one => Speak(one.Item1.Text, WordsAMinute[one.Item2]));

    private float[]? Speak(string text, int pace)
    {
        var identity = string.Create(CultureInfo.InvariantCulture, $"{_release}\n{_language}\n{pace}\n{text}");
        var kept = Path.Combine(_cache, Convert.ToHexStringLower(XxHash128.Hash(Encoding.UTF8.GetBytes(identity))) + ".wav");
        var wave = File.Exists(kept) ? File.ReadAllBytes(kept) : null;
        if (wave is null)
        {
            if (Run(["-v", _language, "-s", pace.ToString(CultureInfo.InvariantCulture), "-z", "--stdout", "--", text]) is not { Code: 0 } spoken) return null;
            wave = spoken.Output;
            Keep(kept, wave);
        }
        return Samples(wave) is { } read ? SpokenWord.Of(read.Samples, read.Rate) : null;
    }

    private static void Keep(string path, byte[] wave)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        var beside = $"{path}.{Environment.CurrentManagedThreadId}.part";
        File.WriteAllBytes(beside, wave);
        File.Move(beside, path, overwrite: true);
    }

    /// <summary>The samples of a wave of 16 bits and one channel. Streamed, its header does not know its length: the sound runs to the end.</summary>
    private static (float[] Samples, int Rate)? Samples(byte[] wave)
    {
        const int Header = 44, RateAt = 24;
        if (wave.Length <= Header || !wave.AsSpan(0, 4).SequenceEqual("RIFF"u8)) return null;
        var samples = new float[(wave.Length - Header) / 2];
        for (var i = 0; i < samples.Length; i++) samples[i] = BinaryPrimitives.ReadInt16LittleEndian(wave.AsSpan(Header + 2 * i)) / 32768f;
        return (samples, BinaryPrimitives.ReadInt32LittleEndian(wave.AsSpan(RateAt)));
    }

    /// <summary>Runs the program; <c>null</c> where there is none.</summary>
    private static (int Code, byte[] Output)? Run(string[] arguments)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(Program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true });
            if (process is null) return null;
            process.StandardInput.Close();
            var error = process.StandardError.ReadToEndAsync();
            using var output = new MemoryStream();
            process.StandardOutput.BaseStream.CopyTo(output);
            process.WaitForExit();
            error.Wait();
            return (process.ExitCode, output.ToArray());
        }
        catch (Win32Exception)
        {
            return null;
        }
    }
}
