namespace Mixscore.Score;

/// <summary>A bar while its parts are being read: what each of them says about it comes together here.</summary>
internal sealed class BarDraft(int number, string label, int line)
{
    private readonly List<(int Part, Meter Meter)> _meters = [];

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

    /// <summary>Signs with their distance from the bar's start.</summary>
    internal List<(Jump Jump, Quarters At)> Jumps { get; } = [];

    /// <summary>The meter in force: that of the first part that has one.</summary>
    internal Meter? Meter => _meters.Count == 0 ? null : _meters.MinBy(offer => offer.Part).Meter;

    internal void Offer(int part, Meter meter) => _meters.Add((part, meter));

    internal void Add(Jump jump, Quarters at)
    {
        var same = Jumps.FindIndex(other => other.Jump.Kind == jump.Kind && (other.Jump.Name == jump.Name || other.Jump.WordsOnly || jump.WordsOnly));
        if (same < 0) Jumps.Add((jump, at));
        else if (Jumps[same].Jump.WordsOnly && !jump.WordsOnly) Jumps[same] = (jump with { Until = Jumps[same].Jump.Until }, at);
        else if (Jumps[same].Jump.Until == JumpUntil.Unsaid) Jumps[same] = (Jumps[same].Jump with { Until = jump.Until }, Jumps[same].At);
    }
}
