namespace Mixscore.Score;

/// <summary>A bar while its parts are being read: what each of them says about it comes together here.</summary>
internal sealed partial class BarDraft(int number, string label, int line)
{
    private readonly List<(int Part, MeterSign Sign)> _meters = [];

    internal int Number => number;

    internal string Label => label;

    internal int Line => line;

    /// <summary>How far the fullest part goes.</summary>
    internal Quarters Length { get; set; }

    internal bool RepeatStarts { get; set; }

    /// <summary>How often the section that ends here is played; 1 where none ends.</summary>
    internal int Plays { get; set; } = 1;

    internal bool RepeatsAfterJump { get; set; }

    /// <summary>The passes of the ending that begins here; <c>null</c> where none begins, empty where its number is not known.</summary>
    internal IReadOnlyList<int>? EndingStart { get; set; }

    internal bool EndingStops { get; set; }

    /// <summary>Barlines inside the bar with their distance from its start.</summary>
    internal SortedDictionary<Quarters, InnerBarline> Inner { get; } = [];

    /// <summary>Signs with their distance from the bar's start.</summary>
    internal List<(Jump Jump, Quarters At)> Jumps { get; } = [];

    /// <summary>The time signature in force: that of the first part that has one.</summary>
    internal MeterSign? Meter => _meters.Count == 0 ? null : _meters.MinBy(offer => offer.Part).Sign;

    internal void Offer(int part, MeterSign sign) => _meters.Add((part, sign));

    internal void Add(Jump jump, Quarters at)
    {
        var same = Jumps.FindIndex(other => other.Jump.Kind == jump.Kind && (other.Jump.Name == jump.Name || other.Jump.WordsOnly || jump.WordsOnly));
        if (same < 0) Jumps.Add((jump, at));
        else if (Jumps[same].Jump.WordsOnly && !jump.WordsOnly) Jumps[same] = (jump with { Until = Jumps[same].Jump.Until }, at);
        else if (Jumps[same].Jump.Until == JumpUntil.Unsaid) Jumps[same] = (Jumps[same].Jump with { Until = jump.Until }, Jumps[same].At);
    }
}
