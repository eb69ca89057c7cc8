using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>What lines everything up at the listening place: strips by their links, loudspeakers by their distances, and how the sound then stands to each site's picture.</summary>
/// <param name="Strips">For each source the delay that its strip needs, so that all sites sound with the latest.</param>
/// <param name="Loudspeakers">For each loudspeaker the delay that it needs, so that all arrive with the farthest.</param>
/// <param name="Pictures">For each site with a picture how much earlier than it the sound is heard.</param>
public sealed record HallAlignment(
    IReadOnlyList<(Source Source, Seconds Delay)> Strips, IReadOnlyList<(Loudspeaker Loudspeaker, Seconds Travel, Seconds Delay)> Loudspeakers,
    IReadOnlyList<(Site Site, Seconds Lead, PictureVerdict Verdict)> Pictures)
{
    /// <summary>The alignment of a plan.</summary>
    public static HallAlignment Of(MixPlan plan)
    {
        var latest = plan.Sites.Select(site => site.Link.Delay.Value).DefaultIfEmpty(0).Max();
        var travels = plan.Hall.Loudspeakers.Select(speaker => (speaker, Travel: SpeedOfSound.Over(speaker.Metres, plan.Hall.Temperature))).ToArray();
        var farthest = travels.Select(one => one.Travel.Value).DefaultIfEmpty(0).Max();
        var sound = latest + farthest;
        return new HallAlignment(
            [.. plan.Sources.Select(source => (source, new Seconds(latest - source.Site.Link.Delay.Value)))],
            [.. travels.Select(one => (one.speaker, one.Travel, new Seconds(farthest - one.Travel.Value)))],
            [.. plan.Sites.Where(site => site.Link.Picture is not null).Select(site =>
            {
                var lead = new Seconds(site.Link.Picture!.Value.Value - sound);
                return (site, lead, PictureTiming.Of(lead));
            })]);
    }
}
