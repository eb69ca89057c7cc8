using System.Security.Cryptography;
using System.Text;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Project;

/// <summary>
/// Makes the first look at a plan and its score quick: while the command line is read, another core goes through the demo's, so
/// that the runtime has compiled by then what any plan needs. A run that was killed is back a quarter of a second sooner.
/// </summary>
internal static class ReadAhead
{
    private static readonly string[] Verbs = ["perform", "rehearse", "read", "draft", "fit", "check", "write"];

    /// <summary>Begins, where the first argument is a verb that opens a plan and there is a core to spare. Nothing waits for it.</summary>
    /// <param name="args">The command line's arguments.</param>
    internal static void Begin(string[] args)
    {
        if (Environment.ProcessorCount < 2 || args.Length < 2 || !Verbs.Contains(args[0], StringComparer.Ordinal)) return;
        new Thread(() =>
        {
            try
            {
                PlanAndScore();
            }
            catch (Exception)
            {
                // Whatever is wrong, the verb itself will find and tell.
            }
        })
        { IsBackground = true, Name = "ahead" }.Start();
    }

    /// <summary>Reads the demo's score and plan, and lays the one on the other: the score first, since the verb begins with maps and plan.</summary>
    internal static PlanOnScore PlanAndScore()
    {
        using var bytes = new MemoryStream(Encoding.UTF8.GetBytes(DemoProject.Text(DemoProject.Score)));
        var score = ScoreFile.Read(bytes, DemoProject.Score);
        TimelineBuilder.Build(score);
        SHA256.HashData([]);
        return PlanOnScore.Resolve(PlanReader.Parse(DemoProject.Text(DemoProject.Plan), DemoProject.Plan), score);
    }
}
