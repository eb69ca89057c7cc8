using System.Globalization;
using System.Runtime.InteropServices;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Keeps analyses in a folder under the hash of the stem's bytes: the content decides, not the name or the date. Hashing
/// reads at the speed of the disk, which is many times faster than measuring. A damaged entry is as good as none.
/// </summary>
/// <param name="folder">The folder; made when something is kept.</param>
/// <param name="hashes">What the stems hash to.</param>
internal sealed class AnalysisCache(string folder, StemHashes hashes)
{
    private const int Version = 3;
    private static readonly byte[] Magic = "MXAN"u8.ToArray();

    /// <summary>Where the analysis of a stem is kept, by its content, and that analysis if it is there.</summary>
    internal (string Entry, SoundAnalysis? Kept) Find(StemFile file)
    {
        var part = file.Start != 0 || file.Channel is not null ? string.Create(CultureInfo.InvariantCulture, $"-{file.Start}-{file.Channel ?? 0}") : "";
        var entry = Path.Combine(folder, hashes.Of(file.Path) + part + ".analysis");
        return (entry, Read(entry));
    }

    private static SoundAnalysis? Read(string entry)
    {
        try
        {
            if (!File.Exists(entry)) return null;
            using var reader = new BinaryReader(new MemoryStream(File.ReadAllBytes(entry)));
            if (!reader.ReadBytes(Magic.Length).AsSpan().SequenceEqual(Magic) || reader.ReadInt32() != Version) return null;
            var duration = reader.ReadDouble();
            var (integrated, range, truePeak) = (Figure(), Figure(), Figure());
            var directCurrent = reader.ReadDouble();
            var energies = new float[Count(sizeof(float))];
            reader.BaseStream.ReadExactly(MemoryMarshal.AsBytes(energies.AsSpan()));
            var (silences, clipped, bursts) = (Stretches(), Stretches(), Stretches());
            if (reader.BaseStream.Position != reader.BaseStream.Length || !double.IsFinite(directCurrent) || Array.Exists(energies, energy => !(energy >= 0 && float.IsFinite(energy)))) return null;
            return new SoundAnalysis(duration, integrated, range, truePeak, directCurrent, energies, silences, clipped, bursts);

            double? Figure() => reader.ReadBoolean() ? reader.ReadDouble() : null;

            Stretch[] Stretches()
            {
                var stretches = new Stretch[Count(2 * sizeof(double))];
                for (var i = 0; i < stretches.Length; i++) stretches[i] = new Stretch(new Seconds(reader.ReadDouble()), new Seconds(reader.ReadDouble()));
                return stretches;
            }

            int Count(int size)
            {
                var count = reader.ReadInt32();
                return count >= 0 && count <= (reader.BaseStream.Length - reader.BaseStream.Position) / size ? count : throw new EndOfStreamException();
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>What cannot be kept is measured again next time: that is no reason to stop.</summary>
    internal void Keep(string entry, SoundAnalysis analysis)
    {
        var temporary = $"{entry}.{Environment.CurrentManagedThreadId}.part";
        try
        {
            Directory.CreateDirectory(folder);
            using (var writer = new BinaryWriter(File.Create(temporary)))
            {
                writer.Write(Magic);
                writer.Write(Version);
                writer.Write(analysis.Duration);
                Figure(analysis.Integrated);
                Figure(analysis.Range);
                Figure(analysis.TruePeak);
                writer.Write(analysis.DirectCurrent);
                writer.Write(analysis.Energies.Length);
                writer.Write(MemoryMarshal.AsBytes(analysis.Energies.AsSpan()));
                Stretches(analysis.Silences);
                Stretches(analysis.Clipped);
                Stretches(analysis.Bursts);

                void Stretches(Stretch[] stretches)
                {
                    writer.Write(stretches.Length);
                    foreach (var stretch in stretches)
                    {
                        writer.Write(stretch.From.Value);
                        writer.Write(stretch.To.Value);
                    }
                }

                void Figure(double? value)
                {
                    writer.Write(value is not null);
                    if (value is { } figure) writer.Write(figure);
                }
            }
            File.Move(temporary, entry, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            if (File.Exists(temporary)) File.Delete(temporary);
        }
    }
}
