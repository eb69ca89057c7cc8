using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>One stem on its way into the mix.</summary>
/// <param name="Stem">Its sound.</param>
/// <param name="Ride">Its gains over the score.</param>
/// <param name="Delay">How much later than the click its sound stands in the stem, 0 or more; the ride is as much later.</param>
/// <param name="Pan">Where it stands, if it is mono; stems of more channels keep their sides.</param>
public sealed record MixTrack(StemFile Stem, Ride Ride, Seconds Delay, Pan Pan)
{
    /// <summary>The tracks of a plan: its stems through its rides, sites spread from left to right in the order of the plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="stems">Its stems.</param>
    /// <param name="rides">Rides by their source; a source without one is left out.</param>
    public static IReadOnlyList<MixTrack> Of(MixPlan plan, StemSet stems, IEnumerable<Ride> rides)
    {
        var bySource = rides.ToDictionary(ride => ride.Source, StringComparer.Ordinal);
        var sites = plan.Sites.Select(site => site.Name).ToList();
        return
        [
            .. from stem in stems.Stems
               where bySource.ContainsKey(stem.Source.Name)
               let site = sites.IndexOf(stem.Source.Site.Name)
               select new MixTrack(stem.File, bySource[stem.Source.Name], stem.Delay, site < 0 ? Pan.Centre : Pan.OfSite(site, sites.Count)),
        ];
    }
}
