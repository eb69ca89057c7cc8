using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>What can be seen of a source.</summary>
/// <param name="Holder">Who moves its fader.</param>
/// <param name="Gain">Where the run has it; <c>null</c> is off.</param>
/// <param name="Planned">Where plan and offset want it; <c>null</c> is off.</param>
/// <param name="Offset">What the engineer adds to the plan.</param>
/// <param name="Gone">Why its feed is gone; <c>null</c> while it is there.</param>
/// <param name="HandDesk">The desk whose fader is in hand, from 0; <c>null</c> for none.</param>
/// <param name="Meter">What the desk's meter showed last; <c>null</c> for nothing.</param>
public readonly record struct SourceView(Holder Holder, Decibels? Gain, Decibels? Planned, Decibels Offset, DropCause? Gone, int? HandDesk, Decibels? Meter);

/// <summary>What can be seen of one fader of one desk.</summary>
/// <param name="Gain">Where it is, as far as the desk has said or was told; <c>null</c> is off or not known.</param>
/// <param name="HasReported">Whether the desk has said where it is.</param>
public readonly record struct DeskView(Decibels? Gain, bool HasReported);

/// <summary>Everything that can be seen of a run, at one tick.</summary>
public sealed class RunPicture
{
    /// <summary>A picture with room for so many.</summary>
    public RunPicture(int sources, int desks) => (Sources, Desks, Twins) = (new SourceView[sources], new DeskView[sources * desks], new TwinSource[sources]);

    /// <summary>The run's time.</summary>
    public TimeSpan Now { get; set; }

    /// <summary>Whether the piece is under way.</summary>
    public RunPhase Phase { get; set; }

    /// <summary>Whether faders are moved.</summary>
    public bool IsArmed { get; set; }

    /// <summary>Seconds into the score; negative during a count-in.</summary>
    public Seconds At { get; set; }

    /// <summary>How long the count-in still lasts; zero when the music is on.</summary>
    public Seconds CountIn { get; set; }

    /// <summary>The played bar, from 1.</summary>
    public int Bar { get; set; }

    /// <summary>Whether it stays.</summary>
    public StayKind Stay { get; set; }

    /// <summary>Where it goes at the next barline; <c>null</c> for straight on.</summary>
    public Seconds? JumpsTo { get; set; }

    /// <summary>What the clock says.</summary>
    public ClockReading Clock { get; set; }

    /// <summary>The other run, as far as there is one.</summary>
    public SpareView Spare { get; set; }

    /// <summary>Where the piece was begun.</summary>
    internal Seconds StartAt { get; set; }

    /// <summary>How far score and clock are apart.</summary>
    internal Seconds Apart { get; set; }

    /// <summary>For how long no desk has been heard; zero where none ever was.</summary>
    internal TimeSpan DeskSilent { get; set; }

    /// <summary>Whether <see cref="Twins"/> holds this tick's; else what it holds is old, or empty.</summary>
    internal bool HasTwins { get; set; }

    /// <summary>The sources as another run needs them, where there is another.</summary>
    internal TwinSource[] Twins { get; }

    /// <summary>The sources, in the plan's order.</summary>
    public SourceView[] Sources { get; }

    /// <summary>The faders of the first desk in the order of the sources, then those of the next.</summary>
    public DeskView[] Desks { get; }

    internal void CopyTo(RunPicture other)
    {
        (other.Now, other.Phase, other.IsArmed, other.At, other.CountIn, other.Bar, other.Stay, other.JumpsTo, other.Clock) = (Now, Phase, IsArmed, At, CountIn, Bar, Stay, JumpsTo, Clock);
        (other.Spare, other.StartAt, other.Apart, other.DeskSilent) = (Spare, StartAt, Apart, DeskSilent);
        Sources.CopyTo(other.Sources, 0);
        other.HasTwins = HasTwins;
        if (HasTwins) Twins.CopyTo(other.Twins, 0);
        Desks.CopyTo(other.Desks, 0);
    }
}

/// <summary>Lets any thread look at a run without making it wait: whoever looks while the picture changes looks again.</summary>
public sealed class RunView
{
    private readonly RunPicture _picture;
    private readonly int _desks;
    private volatile bool _wantsTwins;
    private long _version;

    internal RunView(int sources, int desks) => (_picture, _desks) = (new RunPicture(sources, desks), desks);

    /// <summary>Whether another run is told of this one; from the next tick on the picture has what it needs.</summary>
    internal bool WantsTwins
    {
        get => _wantsTwins;
        set => _wantsTwins = value;
    }

    /// <summary>A picture of the right size, to be filled as often as one likes.</summary>
    public RunPicture NewPicture() => new(_picture.Sources.Length, _desks);

    /// <summary>Fills a picture with one tick's whole state.</summary>
    /// <param name="picture">As <see cref="NewPicture"/> gives it.</param>
    public void Look(RunPicture picture)
    {
        var spin = default(SpinWait);
        while (true)
        {
            var before = Volatile.Read(ref _version);
            if ((before & 1) == 0)
            {
                _picture.CopyTo(picture);
                Thread.MemoryBarrier();
                if (Volatile.Read(ref _version) == before) return;
            }
            spin.SpinOnce();
        }
    }

    /// <summary>A new picture of now.</summary>
    public RunPicture Look()
    {
        var picture = NewPicture();
        Look(picture);
        return picture;
    }

    internal RunPicture Begin()
    {
        Interlocked.Increment(ref _version);
        return _picture;
    }

    internal void End() => Interlocked.Increment(ref _version);
}
