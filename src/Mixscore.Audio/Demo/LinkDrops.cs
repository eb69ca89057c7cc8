using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Where the links of a demo drop: twice in a piece, at different sites if there are several, for 0.4 to 1.2 s, where the
/// most of the site's sources are in the middle of a note.
/// </summary>
internal static class LinkDrops
{
    private static readonly (double Part, double Seconds)[] Wanted = [(0.36, 0.9), (0.71, 0.5)];
    private const double Burst = 0.04, Quiet = 0.45, Window = 0.2, Edge = 0.2;

    /// <summary>The dropouts of each site, by the click.</summary>
    /// <param name="lines">What the sources of each site play: site by site, source by source.</param>
    /// <param name="timeline">The piece.</param>
    internal static List<Stretch>[] Of(IReadOnlyList<IReadOnlyList<IReadOnlyList<PerformedNote>>> lines, Timeline timeline)
    {
        var drops = Enumerable.Range(0, lines.Count).Select(_ => new List<Stretch>()).ToArray();
        var duration = timeline.Duration.Value;
        for (var i = 0; i < Wanted.Length; i++)
        {
            var site = (i + 1) % lines.Count;
            var (part, seconds) = Wanted[i];
            var notes = lines[site].SelectMany(line => line)
                .Select(note => new Stretch(timeline.Tempo.SecondsAt(note.Start), timeline.Tempo.SecondsAt(note.End))).ToList();
            // Into a note by a little, where the most is sounding.
            var from = notes.Select(note => note.From.Value + Quiet)
                .Where(at => at > part * duration && at < (part + Window) * duration && at + seconds + 1 < duration)
                .OrderByDescending(at => notes.Count(note => note.From.Value < at - Edge && note.To.Value > at + seconds + Edge)).ThenBy(at => at)
                .FirstOrDefault(part * duration);
            if (from + seconds < duration) drops[site].Add(new Stretch(new Seconds(from), new Seconds(from + seconds)));
        }
        return drops;
    }

    /// <summary>Cuts a stem, and lets the receiver crack as it comes back.</summary>
    internal static void Apply(Span<float> sound, Stretch drop, double delay, SeededNoise noise)
    {
        var from = (int)Math.Round((drop.From.Value + delay) * Player.Rate);
        var to = (int)Math.Round((drop.To.Value + delay) * Player.Rate);
        sound[Math.Min(from, sound.Length)..Math.Min(to, sound.Length)].Clear();
        var length = (int)(Burst * Player.Rate);
        for (var i = to; i < Math.Min(to + length, sound.Length); i++) sound[i] += 0.03f * noise.Even() * (1 - (float)(i - to) / length);
    }
}
