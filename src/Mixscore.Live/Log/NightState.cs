using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>The state that a log ends in, from which a run is taken up again.</summary>
public sealed record NightState
{
    /// <summary>Whether faders were moved.</summary>
    public bool IsArmed { get; private set; }

    /// <summary>Whether the piece was under way.</summary>
    public RunPhase Phase { get; private set; }

    /// <summary>Where it was begun.</summary>
    public Seconds StartedAt { get; private set; }

    /// <summary>The log's time when it was begun, and what the clock said then.</summary>
    public (TimeSpan T, Seconds Clock) Anchor { get; private set; }

    /// <summary>How far score and clock were apart.</summary>
    public Seconds Apart { get; private set; }

    /// <summary>Whether it stayed.</summary>
    public StayKind Stay { get; private set; }

    /// <summary>Where it stood, when it stood still or was stopped.</summary>
    public Seconds At { get; private set; }

    /// <summary>Where it was to jump; <c>null</c> for straight on.</summary>
    public Seconds? JumpsTo { get; private set; }

    /// <summary>Where the piece was when it was told to stay or to jump: that bar.</summary>
    public Seconds ToldAt { get; private set; }

    /// <summary>Whether another run was there that could go on, or went on, with it.</summary>
    public bool HasSpare { get; private set; }

    /// <summary>Each source that was ever touched, by name.</summary>
    public IReadOnlyDictionary<string, SourceState> Sources => _sources;

    private readonly Dictionary<string, SourceState> _sources = new(StringComparer.Ordinal);

    /// <summary>A source.</summary>
    /// <param name="Holder">Who moved it; one that was returning is on the plan.</param>
    /// <param name="Gain">Where the hand had it; <c>null</c> is off.</param>
    /// <param name="Offset">What was added to the plan.</param>
    /// <param name="IsTold">Whether its site was said to be gone.</param>
    public sealed record SourceState(Holder Holder, Decibels? Gain, Decibels Offset, bool IsTold);

    /// <summary>Runs through a log.</summary>
    public static NightState Of(Night night)
    {
        var state = new NightState();
        foreach (var line in night.Lines) state.Take(line);
        return state;
    }

    private void Take(LogRecord line)
    {
        if (line.Seconds is { } at) At = at;
        switch (line.Kind)
        {
            case LogKind.Arm: IsArmed = true; break;
            case LogKind.Disarm: IsArmed = false; break;
            case LogKind.Start:
                (Phase, StartedAt, Apart, Stay, JumpsTo) = (RunPhase.Running, At, Seconds.Zero, StayKind.None, null);
                Anchor = (line.T, new Seconds(line.Value ?? At.Value));
                break;
            // One that follows says each second where the clock of the other is.
            case LogKind.Position when line.Value is { } clock: Anchor = (line.T, new Seconds(clock)); break;
            case LogKind.Spare: HasSpare = true; break;
            case LogKind.Stop: Phase = RunPhase.Stopped; break;
            case LogKind.Stay: (Stay, JumpsTo, ToldAt) = (line.Text == "still" ? StayKind.Hold : StayKind.Loop, null, At); break;
            case LogKind.Release: (Stay, Apart) = (StayKind.None, new Seconds(line.Value ?? Apart.Value)); break;
            case LogKind.Jump: (Stay, JumpsTo, ToldAt) = (StayKind.None, new Seconds(line.Value ?? 0), At); break;
            case LogKind.Turn:
                Apart = new Seconds(line.Value ?? Apart.Value);
                JumpsTo = null;
                break;
            default: TakeSource(line); break;
        }
    }

    private void TakeSource(LogRecord line)
    {
        if (line.Source is not { } name) return;
        var source = _sources.GetValueOrDefault(name, new SourceState(Holder.Planned, null, Decibels.Zero, false));
        _sources[name] = line.Kind switch
        {
            LogKind.Take or LogKind.Hand => source with { Holder = Holder.InHand, Gain = line.Gain },
            LogKind.Back => source with { Holder = Holder.Returning, Gain = line.Gain },
            LogKind.Planned => source with { Holder = Holder.Planned },
            LogKind.Offset => source with { Offset = line.Gain ?? Decibels.Zero },
            LogKind.Drop => source with { IsTold = line.Text == Words.Of(DropCause.Told) },
            LogKind.Up => source with { IsTold = false },
            _ => source,
        };
    }
}
