using Mixscore.Protocols.Midi;
using Mixscore.Score;
using NAudio.Midi;

namespace Mixscore.Desk;

/// <summary>
/// The moves as a Standard MIDI File of format 1: tempo, meters and letters in the first track, then a track a source,
/// named after it. A change stands on the tick nearest to its time on the wire by the file's own tempo map.
/// </summary>
public sealed class MidiAutomation
{
    private MidiAutomation(byte[] bytes, IReadOnlyList<string> notes, int peak) => (Bytes, Notes, PeakBytes) = (bytes, notes, peak);

    /// <summary>The file.</summary>
    public ReadOnlyMemory<byte> Bytes { get; }

    /// <summary>What the file cannot say, in words.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>The most bytes of moves in any second as the file stands, without running status.</summary>
    public int PeakBytes { get; }

    /// <summary>The file of moves.</summary>
    /// <param name="moves">Made for a desk that speaks MIDI.</param>
    /// <param name="timeline">The piece.</param>
    /// <param name="title">Its title; may be empty.</param>
    /// <exception cref="ArgumentException">The moves are for another protocol.</exception>
    public static MidiAutomation Of(DeskMoves moves, Timeline timeline, string title)
    {
        if (moves.Map.Fader.Control is not MidiControl control) throw new ArgumentException("these moves are not for a desk that speaks MIDI", nameof(moves));
        var tempo = FileTempo.Of(timeline);
        var notes = new List<string>();
        var end = tempo.TickOf(timeline.End);
        List<List<MidiEvent>> tracks = [ConductorTrack.Of(title, timeline, tempo, notes)];
        var sent = new List<(double At, int Bytes)>();
        var bySource = moves.Moves.ToLookup(move => move.Source.Name);
        foreach (var source in moves.Sources.Select(one => one.Source))
        {
            var address = control.At(source.Strip);
            List<MidiEvent> track = [ConductorTrack.Text(source.Name, MetaEventType.SequenceTrackName, 0)];
            foreach (var (tick, move) in OnTicks(bySource[source.Name], tempo))
            {
                track.AddRange(Events(address, (int)move.Value, tick));
                sent.Add((tempo.SecondsAt(tick), address.Bytes));
            }
            tracks.Add(ConductorTrack.Closed(track, end));
        }
        var peak = MidiWire.Peak([.. sent.OrderBy(one => one.At)]);
        return new MidiAutomation(ConductorTrack.File(tempo.TicksPerQuarter, tracks), notes, peak);
    }

    private static IEnumerable<(long Tick, DeskMove Move)> OnTicks(IEnumerable<DeskMove> moves, FileTempo tempo)
    {
        var last = -1L;
        var isOff = false;
        foreach (var move in moves)
        {
            var exact = tempo.TickAt(move.At.Value);
            // A fader that opens does so after the instant at which it is still off; two changes never share a tick.
            var tick = Math.Max(last + 1, (long)(isOff ? Math.Ceiling(exact) : Math.Round(exact)));
            yield return (tick, move);
            (last, isOff) = (tick, move.Gain is null);
        }
    }

    private static IEnumerable<MidiEvent> Events(MidiAddress address, int value, long tick)
    {
        var bytes = new byte[MidiAddress.MostBytes];
        var length = address.Write(value, bytes);
        for (var i = 0; i < length; i += 3)
            yield return address.Target == MidiTarget.PitchBend
                ? new PitchWheelChangeEvent(tick, address.Channel, bytes[i + 1] | bytes[i + 2] << 7)
                : new ControlChangeEvent(tick, address.Channel, (MidiController)bytes[i + 1], bytes[i + 2]);
    }
}
