namespace Mixscore.Score;

/// <summary>A bar as it is played: one written bar on one of its passes.</summary>
public sealed record PlayedBar
{
    /// <summary>Its place in the played order, from 1.</summary>
    public required int Index { get; init; }

    /// <summary>Its printed number, such as <c>12</c> or <c>12a</c>.</summary>
    public required string Label { get; init; }

    /// <summary>The place of the written bar in the file, from 1.</summary>
    public required int Written { get; init; }

    /// <summary>The how-manieth time the written bar is played, from 1.</summary>
    public required int Pass { get; init; }

    /// <summary>The movement that the bar belongs to, from 1; numbers may begin again with each.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>The meter in force.</summary>
    public required Meter Meter { get; init; }

    /// <summary>Where it begins, from the start of the piece as played.</summary>
    public required Quarters Start { get; init; }

    /// <summary>How long it lasts.</summary>
    public required Quarters Length { get; init; }

    /// <summary>Where each of its beats begins, from the start of the piece: at least one.</summary>
    public required IReadOnlyList<Quarters> Beats { get; init; }

    /// <summary>Where the next bar begins.</summary>
    public Quarters End => Start + Length;

    /// <summary>
    /// Where the beats of a bar begin, as the meter counts them. A bar shorter than its meter has the meter's beats as
    /// far as they go; a longer one goes on counting in the meter's last unit.
    /// </summary>
    public static IReadOnlyList<Quarters> BeatsOf(Quarters start, Quarters length, Meter meter)
    {
        var beats = new List<Quarters>();
        var at = Quarters.Zero;
        for (var i = 0; at < length || i == 0; i++)
        {
            beats.Add(start + at);
            at += i < meter.Beats.Count ? meter.Beats[i] : meter.Unit;
        }
        return beats;
    }

    /// <summary><c>17</c>, or <c>17@2</c> on a later pass.</summary>
    public override string ToString() => Pass > 1 ? $"{Label}@{Pass}" : Label;
}
