namespace Mixscore.Score;

/// <summary>One bar in the order of playing.</summary>
/// <param name="Bar">The place of the written bar in the file, from 1.</param>
/// <param name="Pass">The how-manieth time it is played, from 1.</param>
public readonly record struct PlayedStep(int Bar, int Pass);

/// <summary>
/// The bars of a score in the order in which a player plays them. Repeats go first; D.C. and D.S. are obeyed when the
/// repeats of their bar are done, each once; after them repeats are not taken again and the last ending is played; Fine
/// and To Coda act at the end of their bar.
/// </summary>
/// <param name="Steps">At least one.</param>
/// <param name="Warnings">What could not be unfolded, or needs a look; each names its bar.</param>
public sealed record PlayOrder(IReadOnlyList<PlayedStep> Steps, IReadOnlyList<Fault> Warnings)
{
    /// <summary>The most bars that are played; beyond, the score is played straight through, with a warning.</summary>
    public const int MostSteps = 200_000;

    /// <summary>Unfolds repeats and jumps.</summary>
    /// <param name="score">At least one bar.</param>
    /// <param name="withRepeats">Whether repeats are taken; without them each section is played once, with its last ending. Jumps are obeyed either way.</param>
    public static PlayOrder Unfold(WrittenScore score, bool withRepeats = true)
    {
        var notices = new Notices(score.File);
        var player = new Player(score.Bars, Sections.Of(score.Bars, notices), notices, withRepeats);
        var steps = player.Play();
        return new PlayOrder(steps, notices.Warnings);
    }

    /// <summary>The stretches of bars that follow one another in the file, as first and last step, from 0.</summary>
    public IEnumerable<(int First, int Last)> Runs()
    {
        var first = 0;
        for (var i = 1; i <= Steps.Count; i++)
            if (i == Steps.Count || Steps[i].Bar != Steps[i - 1].Bar + 1)
            {
                yield return (first, i - 1);
                first = i;
            }
    }
}
