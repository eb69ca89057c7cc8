using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary><c>sites:</c>, such as <c>north: { link: { delay: 38 ms, on-drop: fade 300 ms } }</c>.</summary>
internal static class SitesSection
{
    /// <summary>The sites by name, in the order of the file.</summary>
    internal static OrderedDictionary<string, Site> Read(YamlPair? pair, FaultList faults)
    {
        var sites = new OrderedDictionary<string, Site>(StringComparer.Ordinal);
        if (pair is null || !Section.IsMap("the list of sites", pair.Value, faults, "write a site's name and a colon on each line",
            out var map))
            return sites;
        foreach (var (key, value) in map?.Pairs ?? [])
        {
            if (!IsName(key.Value))
                faults.Add(PlanFault.BadName, key.Place, $"\"{key.Value}\" cannot name a site",
                    "use letters, digits, - and _; a dot parts the site from its source");
            var site = Section.Open("a site", value, key.Place, faults, "link", "call");
            sites[key.Value] = new Site(key.Value, ReadLink(site, faults), key.Place) { Call = site is null ? null : CallSection.ReadChoice(site, site["call"], faults) };
        }
        return sites;
    }

    /// <summary>Whether a text can stand before the dot of a source's name.</summary>
    internal static bool IsName(string text) => text.Length > 0 && text.All(c => char.IsLetterOrDigit(c) || c is '-' or '_');

    private static Link ReadLink(Section? site, FaultList faults)
    {
        var usual = new Link(Seconds.Zero, OnDrop.Usual);
        if (site?["link"] is not { } pair) return usual;
        if (Section.Open("a link", pair.Value, pair.Key.Place, faults, "delay", "on-drop", "picture") is not { } link) return usual;
        return new Link(Seconds.FromMilliseconds(link.Quantity("delay", Measure.Delay, 0)), ReadDrop(link, faults))
        {
            Picture = link["picture"] is null ? null : Seconds.FromMilliseconds(link.Quantity("picture", Measure.Delay, 0)),
        };
    }

    private static OnDrop ReadDrop(Section link, FaultList faults)
    {
        var pair = link["on-drop"];
        if (link.Text(pair) is not { } text) return OnDrop.Usual;
        if (text.Equals("hold", StringComparison.OrdinalIgnoreCase)) return new OnDrop(false, Seconds.Zero);
        if (text.Equals("fade", StringComparison.OrdinalIgnoreCase)) return OnDrop.Usual;
        if (!text.StartsWith("fade ", StringComparison.OrdinalIgnoreCase))
        {
            faults.Add(PlanFault.UnknownWord, pair!.Value.Place, $"\"{text}\" is not what a link can do when it drops",
                "write \"hold\", or \"fade\" and how long, such as \"fade 300 ms\"");
            return OnDrop.Usual;
        }
        if (Measure.Fade.Read(text[5..], out var milliseconds) is not { } problem)
            return new OnDrop(true, Seconds.FromMilliseconds(milliseconds));
        link.Add(problem, pair!.Value.Place);
        return OnDrop.Usual;
    }
}
