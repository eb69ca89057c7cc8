using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>A word as it stands in the call.</summary>
/// <param name="Cue">What asked for it.</param>
/// <param name="Text">What is said.</param>
/// <param name="From">When it begins; seconds from the start of the piece.</param>
/// <param name="To">When its last sound ends.</param>
public sealed record CalledWord(CallCue Cue, string Text, Seconds From, Seconds To);

/// <summary>
/// The spoken call as a WAV file of 24 bits and one channel, as long as the click: every word ends before its bar line. A
/// word that has no time at an easy pace is said shorter, then quicker, and left out where nothing fits.
/// </summary>
public sealed class CallTrack
{
    /// <summary>How long before its bar line a word has ended, between two words, and between the parts of one. Our own choices.</summary>
    private const double Clear = 0.05, Between = 0.08, Joint = 0.07;

    private readonly ClickTimes _click;
    private readonly List<(long Frame, float[] Samples)> _placed;

    private CallTrack(ClickTimes click, List<(long, float[])> placed, IReadOnlyList<CalledWord> words, IReadOnlyList<CallCue> leftOut, IReadOnlyList<string> missing) =>
        (_click, _placed, Words, LeftOut, Missing) = (click, placed, words, leftOut, missing);

    /// <summary>What is said, in order.</summary>
    public IReadOnlyList<CalledWord> Words { get; }

    /// <summary>What there was no time for.</summary>
    public IReadOnlyList<CallCue> LeftOut { get; }

    /// <summary>The keys that the voice could not say, each once, in order.</summary>
    public IReadOnlyList<string> Missing { get; }

    /// <summary>Places the words of a script.</summary>
    public static CallTrack Of(ClickTimes click, IReadOnlyList<CallCue> cues, ICallVoice voice)
    {
        Prepare(cues, voice);
        var placed = new List<(long, float[])>();
        var words = new List<CalledWord>();
        var leftOut = new List<CallCue>();
        var missing = cues.SelectMany(cue => cue.Choices).SelectMany(choice => choice).Where(part => voice.Say(part, 0) is null).Select(part => part.Key).Distinct(StringComparer.Ordinal).ToArray();
        var free = ClickTrack.FrameOf(click, new Seconds(-click.Lead.Value));
        foreach (var cue in cues)
        {
            var from = Math.Max(free, ClickTrack.FrameOf(click, cue.From));
            var to = ClickTrack.FrameOf(click, cue.To) - Frames(cue.IsOnBeat ? Clear / 2 : Clear);
            if (Fitting(cue, voice, to - from) is not var (choice, samples))
            {
                if (cue.Choices.Any(one => one.All(part => !missing.Contains(part.Key)))) leftOut.Add(cue);
                continue;
            }
            var at = cue.IsOnBeat ? from : to - samples.Length;
            placed.Add((at, samples));
            words.Add(new CalledWord(cue, string.Join(", ", choice.Select(part => part.Text)), TimeOf(click, at), TimeOf(click, at + samples.Length)));
            free = at + samples.Length + Frames(Between);
        }
        return new CallTrack(click, placed, words, leftOut, missing);
    }

    /// <summary>Writes the file, whole or not at all.</summary>
    /// <exception cref="UnavailableException">MX221 the file cannot be written.</exception>
    public void Write(string path)
    {
        const int Block = 8192;
        var frames = ClickTrack.FrameOf(_click, _click.Duration);
        using var writer = new StemWriter(path, new SoundFormat(ClickTrack.SampleRate, 1), frames);
        var block = new float[Block];
        var next = 0;
        for (long at = 0; at < frames; at += Block)
        {
            var some = block.AsSpan(0, (int)Math.Min(Block, frames - at));
            some.Clear();
            while (next < _placed.Count && _placed[next].Frame + _placed[next].Samples.Length <= at) next++;
            for (var i = next; i < _placed.Count && _placed[i].Frame < at + some.Length; i++)
            {
                var (frame, samples) = _placed[i];
                var (from, to) = (Math.Max(frame, at), Math.Min(frame + samples.Length, at + some.Length));
                samples.AsSpan((int)(from - frame), (int)(to - from)).CopyTo(some[(int)(from - at)..]);
            }
            writer.Write(some);
        }
        writer.Finish();
    }

    /// <summary>All words at an easy pace, side by side: a voice may take its time.</summary>
    private static void Prepare(IReadOnlyList<CallCue> cues, ICallVoice voice) =>
        Parallel.ForEach(cues.SelectMany(cue => cue.Choices).SelectMany(choice => choice).Distinct(), new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, part => voice.Say(part, 0));

    /// <summary>The first of the choices that fits, at the easier paces; where none does, at the quicker ones.</summary>
    private static (IReadOnlyList<CallPart> Choice, float[] Samples)? Fitting(CallCue cue, ICallVoice voice, long room)
    {
        var easy = (voice.Paces + 1) / 2;
        foreach (var (first, end) in ((int, int)[])[(0, easy), (easy, voice.Paces)])
            foreach (var choice in cue.Choices)
                for (var pace = first; pace < end; pace++)
                    if (Joined(choice, voice, pace) is { } samples && samples.Length <= room) return (choice, samples);
        return null;
    }

    private static float[]? Joined(IReadOnlyList<CallPart> parts, ICallVoice voice, int pace)
    {
        var samples = new List<float>();
        foreach (var part in parts)
        {
            if (voice.Say(part, pace) is not { } word) return null;
            if (samples.Count > 0) samples.AddRange(new float[Frames(Joint)]);
            samples.AddRange(word);
        }
        return [.. samples];
    }

    private static int Frames(double seconds) => (int)Math.Ceiling(seconds * ClickTrack.SampleRate);

    private static Seconds TimeOf(ClickTimes click, long frame) => new Seconds((double)frame / ClickTrack.SampleRate) - click.Lead;
}
