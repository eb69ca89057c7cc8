using System.Buffers.Binary;
using System.Text;
using Mixscore.Loudness;
using Mixscore.Protocols.Osc;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// How two runs tell each other of themselves, in OSC. One that follows: <c>/mixscore/spare/here</c> shi (plan, id, term). One that
/// performs: <c>/mixscore/spare/state</c> shi (plan, id, term) d (when) ii (phase, armed) did (clock, its state, its rate) dd (begun at,
/// apart) id (stays, at) d (jumps to; not a number for straight on) d (desk silent) i (first source) b (<see cref="RowBytes"/> bytes a source).
/// Times are seconds. A state that does not fit one datagram goes in several, each whole in itself.
/// </summary>
internal static class TwinMessage
{
    internal const string Root = "/mixscore/spare/";
    private const string Here = Root + "here";
    private const string State = Root + "state";

    /// <summary>The most sources in one datagram, so that the network need not cut it.</summary>
    internal const int MostRows = 40;

    /// <summary>Room for a message.</summary>
    internal const int MostBytes = 1472;

    private const int RowBytes = 32;
    private const byte None = 255;

    /// <summary>Writes a message.</summary>
    /// <param name="to">Room for it.</param>
    /// <param name="state">At most <see cref="MostRows"/> sources.</param>
    /// <returns>Its bytes; 0 when it does not fit.</returns>
    internal static int Write(Span<byte> to, TwinState state)
    {
        var writer = new OscWriter(to);
        writer.BeginMessage(state.IsPerforming ? State : Here, state.IsPerforming ? "shidiididddidddib"u8 : "shi"u8);
        writer.Text(state.PlanKey);
        writer.Int64(state.Id);
        writer.Int32(state.Term);
        if (state.IsPerforming) WriteState(ref writer, state);
        return writer.EndMessage() ? writer.Length : 0;
    }

    private static void WriteState(ref OscWriter writer, TwinState state)
    {
        writer.Float64(state.When.TotalSeconds);
        writer.Int32((int)state.Phase);
        writer.Int32(state.IsArmed ? 1 : 0);
        writer.Float64(state.Clock.Value);
        writer.Int32((int)state.ClockState);
        writer.Float64(state.Rate);
        writer.Float64(state.StartAt.Value);
        writer.Float64(state.Apart.Value);
        writer.Int32((int)state.Stay);
        writer.Float64(state.At.Value);
        writer.Float64(state.JumpsTo?.Value ?? double.NaN);
        writer.Float64(state.DeskSilent.TotalSeconds);
        writer.Int32(state.First);
        Span<byte> rows = stackalloc byte[MostRows * RowBytes];
        for (var i = 0; i < state.Sources.Count; i++) WriteRow(rows[(i * RowBytes)..], state.Sources[i]);
        writer.Blob(rows[..(state.Sources.Count * RowBytes)]);
    }

    private static void WriteRow(Span<byte> to, in TwinSource row)
    {
        to[0] = (byte)row.Holder;
        to[1] = row.HandDesk is { } desk ? (byte)desk : None;
        to[2] = row.Gone is { } gone ? (byte)gone : None;
        to[3] = 0;
        WriteNumber(to, 0, row.Gain?.Value);
        WriteNumber(to, 1, row.Hand?.Value);
        WriteNumber(to, 2, row.Offset.Value);
        WriteNumber(to, 3, row.DropTo?.Value);
        WriteNumber(to, 4, row.Error.Value);
        WriteNumber(to, 5, row.Left.TotalSeconds);
        WriteNumber(to, 6, row.BackOver?.TotalSeconds);
    }

    private static void WriteNumber(Span<byte> to, int place, double? number) =>
        BinaryPrimitives.WriteSingleBigEndian(to[(4 + (4 * place))..], (float)(number ?? double.NaN));

    /// <summary>Reads the message that a reader stands at.</summary>
    /// <returns><c>null</c> for one that is none of these, or says what cannot be.</returns>
    internal static TwinState? Read(ref OscReader reader)
    {
        var isState = reader.Address.SequenceEqual(Encoding.ASCII.GetBytes(State));
        if (!isState && !reader.Address.SequenceEqual(Encoding.ASCII.GetBytes(Here))) return null;
        if (!reader.TryReadText(out var key) || !reader.NextArgument() || reader.Tag != OscTag.Int64) return null;
        var (plan, id) = (Encoding.UTF8.GetString(key), reader.Int64);
        if (!reader.TryReadNumber(out var term) || term is < 0 or > int.MaxValue) return null;
        var state = new TwinState { PlanKey = plan, Id = id, Term = (int)term, IsPerforming = isState };
        return isState ? ReadState(ref reader, state) : state;
    }

    private static TwinState? ReadState(ref OscReader reader, TwinState head)
    {
        Span<double> numbers = stackalloc double[13];
        for (var i = 0; i < numbers.Length; i++)
            if (!reader.TryReadNumber(out numbers[i]) || (i != 10 && !(Math.Abs(numbers[i]) < 1e9))) return null;
        if (!reader.NextArgument() || reader.Tag != OscTag.Blob || reader.Blob.Length % RowBytes != 0 || reader.Blob.Length > MostRows * RowBytes) return null;
        if (!Enum.IsDefined((RunPhase)numbers[1]) || !Enum.IsDefined((ClockState)numbers[4]) || !Enum.IsDefined((StayKind)numbers[8]) || numbers[5] is < 0 or > 10 || numbers[12] < 0) return null;
        var rows = new TwinSource[reader.Blob.Length / RowBytes];
        for (var i = 0; i < rows.Length; i++)
        {
            if (ReadRow(reader.Blob[(i * RowBytes)..]) is not { } row) return null;
            rows[i] = row;
        }
        return head with
        {
            When = TimeSpan.FromSeconds(numbers[0]),
            Phase = (RunPhase)numbers[1],
            IsArmed = numbers[2] != 0,
            Clock = new Seconds(numbers[3]),
            ClockState = (ClockState)numbers[4],
            Rate = numbers[5],
            StartAt = new Seconds(numbers[6]),
            Apart = new Seconds(numbers[7]),
            Stay = (StayKind)numbers[8],
            At = new Seconds(numbers[9]),
            JumpsTo = double.IsFinite(numbers[10]) ? new Seconds(numbers[10]) : null,
            DeskSilent = TimeSpan.FromSeconds(Math.Max(0, numbers[11])),
            First = (int)numbers[12],
            Sources = rows,
        };
    }

    private static TwinSource? ReadRow(ReadOnlySpan<byte> from)
    {
        var (holder, gone) = ((Holder)from[0], from[2] == None ? (DropCause?)null : (DropCause)from[2]);
        if (!Enum.IsDefined(holder) || (gone is { } cause && !Enum.IsDefined(cause))) return null;
        return new TwinSource(
            holder, from[1] == None ? null : from[1], gone, Gain(from, 0), Gain(from, 1), Gain(from, 2) ?? Decibels.Zero, Gain(from, 3), Gain(from, 4) ?? Decibels.Zero,
            Span(from, 5) ?? TimeSpan.Zero, Span(from, 6));
    }

    private static Decibels? Gain(ReadOnlySpan<byte> from, int place) => Number(from, place) is { } number ? Decibels.Of(number) : null;

    private static TimeSpan? Span(ReadOnlySpan<byte> from, int place) => Number(from, place) is { } number ? TimeSpan.FromSeconds(Math.Max(0, number)) : null;

    private static double? Number(ReadOnlySpan<byte> from, int place)
    {
        double number = BinaryPrimitives.ReadSingleBigEndian(from[(4 + (4 * place))..]);
        return Math.Abs(number) < 1e6 ? number : null;
    }
}
