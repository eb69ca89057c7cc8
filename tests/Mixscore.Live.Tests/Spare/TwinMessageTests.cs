using CsCheck;
using Mixscore.Loudness;
using Mixscore.Protocols.Osc;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Spare;

/// <summary>What two runs say to each other comes across as it was; what strangers say in its place harms nobody.</summary>
public class TwinMessageTests
{
    private static readonly Gen<double?> Db = Gen.Select(Gen.Bool, Gen.Int[-9600, 1600], (isOff, number) => isOff ? (double?)null : number / 128.0);

    private static readonly Gen<TwinSource> Source = Gen.Select(Gen.Enum<Holder>(), Gen.Int[-1, 7], Gen.Int[-1, 2], Db, Db, Db, Gen.Int[0, 4000]).Select((holder, desk, gone, gain, hand, to, left) =>
        new TwinSource(holder, desk < 0 ? null : desk, gone < 0 ? null : (DropCause)gone, Of(gain), Of(hand), Decibels.Of(hand ?? 0), Of(to), Decibels.Of(gain ?? 0), TimeSpan.FromSeconds(left / 64.0), left % 2 == 0 ? null : TimeSpan.FromSeconds(left / 32.0)));

    private static readonly Gen<TwinState> State = Gen.Select(Source.Array[0, TwinMessage.MostRows], Gen.Double[-1e6, 1e6], Gen.Enum<RunPhase>(), Gen.Enum<ClockState>(), Gen.Enum<StayKind>(), Gen.Bool, Gen.Int[0, 1000]).Select((sources, number, phase, clock, stay, isArmed, term) => new TwinState
    {
        PlanKey = "0123456789abcdef",
        Id = term * 7_919L,
        Term = term,
        IsPerforming = true,
        When = TimeSpan.FromSeconds(term / 16.0),
        Phase = phase,
        IsArmed = isArmed,
        Clock = new Seconds(number),
        ClockState = clock,
        Rate = 1.005,
        StartAt = new Seconds(number / 2),
        Apart = new Seconds(number / 3),
        Stay = stay,
        At = new Seconds(number / 4),
        JumpsTo = isArmed ? new Seconds(number) : null,
        DeskSilent = TimeSpan.FromSeconds(term / 8.0),
        First = term,
        Sources = sources,
    });

    [Fact]
    public void What_one_says_the_other_reads() => State.Sample(state =>
    {
        var buffer = new byte[TwinMessage.MostBytes];
        var length = TwinMessage.Write(buffer, state);
        var read = Read(buffer.AsSpan(0, length));
        return read is not null && read with { Sources = [] } == state with { Sources = [] } && read.Sources.SequenceEqual(state.Sources);
    });

    [Fact]
    public void What_strangers_say_is_refused_or_within_reason() => Gen.Select(State, Gen.Select(Gen.Int[0, TwinMessage.MostBytes - 1], Gen.Byte).Array[1, 8]).Sample((state, changes) =>
    {
        var buffer = new byte[TwinMessage.MostBytes];
        var length = TwinMessage.Write(buffer, state);
        foreach (var (place, value) in changes) buffer[place % length] = value;
        if (!OscCodec.Check(buffer.AsSpan(0, length)).IsNone) return true;
        var read = Read(buffer.AsSpan(0, length));
        return read is null || (Math.Abs(read.Clock.Value) < 1e9 && read.Rate is >= 0 and <= 10 && read.First >= 0 && read.Sources.All(source => Enum.IsDefined(source.Holder) && source.Left >= TimeSpan.Zero));
    });

    private static TwinState? Read(ReadOnlySpan<byte> packet)
    {
        var reader = new OscReader(packet);
        return reader.NextMessage() ? TwinMessage.Read(ref reader) : null;
    }

    private static Decibels? Of(double? number) => number is { } value ? Decibels.Of(value) : null;
}
