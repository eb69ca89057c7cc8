using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary><c>sources:</c>, such as <c>north.horn: { role: instrument, stem: stems/horn.wav, strip: 2, part: P1 }</c>.</summary>
internal static class SourcesSection
{
    private const int MostSources = 1000;
    private const int HighestStrip = 9999;
    private const int HighestStaff = 64;
    private static readonly string[] Roles = ["voice", "instrument", "ambient"];

    /// <summary>What was read.</summary>
    /// <param name="Sources">Those that could be read whole, in the order of the file.</param>
    /// <param name="Names">Every name that is written, so that a fault in a source does not cause others.</param>
    internal sealed record Result(IReadOnlyList<Source> Sources, IReadOnlyList<string> Names);

    internal static Result Read(YamlPair? pair, OrderedDictionary<string, Site> sites, VertexGrid grid, FaultList faults)
    {
        if (pair is null || !Section.IsMap("the list of sources", pair.Value, faults, "write a source's name and a colon on each line",
            out var map))
            return new Result([], []);
        if (map is null || map.Pairs.Count == 0)
            faults.Add(PlanFault.MissingKey, pair.Key.Place, "there is no source",
                "name one, such as \"north.voice: { role: voice, stem: stems/voice.wav, strip: 1 }\"");
        if (map?.Pairs.Count > MostSources)
        {
            faults.Add(PlanFault.TooMuch, map.Pairs[MostSources].Key.Place, $"there are {map.Pairs.Count} sources",
                $"a plan has at most {MostSources}");
            return new Result([], []);
        }
        var sources = new List<Source>();
        foreach (var one in map?.Pairs ?? [])
            if (ReadOne(one, sites, grid, faults) is { } source) sources.Add(source);
        foreach (var shared in sources.GroupBy(source => source.Strip).Where(group => group.Count() > 1))
        {
            var first = shared.First();
            foreach (var other in shared.Skip(1))
                faults.Add(PlanFault.SharedStrip, other.StripPlace ?? other.Place,
                    $"strip {shared.Key} is {first.Name}'s already (line {(first.StripPlace ?? first.Place).Line})",
                    $"give {other.Name} a strip of its own");
        }
        return new Result(sources, [.. map?.Pairs.Select(one => one.Key.Value) ?? []]);
    }

    private static Source? ReadOne(YamlPair pair, OrderedDictionary<string, Site> sites, VertexGrid grid, FaultList faults)
    {
        var (name, place) = (pair.Key.Value, pair.Key.Place);
        var site = FindSite(name, place, sites, faults);
        if (Section.Open("a source", pair.Value, place, faults, "role", "stem", "strip", "within", "offset", "window", "grid", "part", "staff", "start", "channel") is not { } source) return null;
        var role = ReadRole(source, source.Need("role", $"write one of {string.Join(", ", Roles)}"), faults);
        var stemPair = source.Need("stem", "name the recorded feed, such as \"stem: stems/voice.wav\"");
        var stem = source.Text(stemPair);
        var stripPair = source.Need("strip", "write the number of a channel of the desk, such as \"strip: 1\"");
        var strip = ReadStrip(source, stripPair, faults);
        var within = source.Quantity("within", Measure.Within, 2);
        var offset = source.Quantity("offset", Measure.Offset, 0);
        var window = source.Quantity("window", Measure.Window, Source.UsualWindow.Value);
        var start = source.Quantity("start", Measure.Start, 0);
        var channel = ReadChannel(source, source["channel"], faults);
        var part = source.Text(source["part"]);
        var staff = ReadStaff(source, source["staff"], faults);
        if (staff is not null && source["part"] is null)
            faults.Add(PlanFault.MissingKey, source["staff"]!.Value.Place, "a staff without its part", "name the part as well, such as \"part: P1, staff: 2\"");
        if (site is null || role is null || stem is null || strip is null) return null;
        return new Source
        {
            Name = name,
            Site = site,
            Role = role.Value,
            Stem = stem,
            Strip = strip.Value,
            Within = Decibels.Of(within),
            Offset = Decibels.Of(offset),
            Window = new Seconds(window),
            Grid = GridWord.Read(source, source["grid"], grid, faults),
            Start = new Seconds(start),
            Channel = channel,
            Part = part,
            Staff = staff,
            Place = place,
            StemPlace = stemPair!.Value.Place,
            StripPlace = stripPair!.Value.Place,
            PartPlace = source["part"]?.Value.Place,
            StaffPlace = source["staff"]?.Value.Place,
        };
    }

    private static int? ReadChannel(Section source, YamlPair? pair, FaultList faults)
    {
        const int Most = 6;
        if (source.Text(pair) is not { } text) return null;
        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var channel) && channel is >= 1 and <= Most) return channel;
        faults.Add(PlanFault.OutOfRange, pair!.Value.Place, $"\"{text}\" is not a channel of a stem", $"write a whole number from 1 to {Most}");
        return null;
    }

    private static Site? FindSite(string name, Place place, OrderedDictionary<string, Site> sites, FaultList faults)
    {
        var dot = name.IndexOf('.', StringComparison.Ordinal);
        var isName = dot > 0 && dot < name.Length - 1 && SitesSection.IsName(name[..dot]) && name[(dot + 1)..].Split('.')
            .All(SitesSection.IsName);
        if (!isName)
        {
            faults.Add(PlanFault.BadName, place, $"\"{name}\" cannot name a source",
                "write its site, a dot and a name of letters, digits, - and _, such as north.voice");
            return null;
        }
        if (sites.TryGetValue(name[..dot], out var site)) return site;
        faults.Add(PlanFault.UnknownSite, place, $"{name}: there is no site \"{name[..dot]}\"", sites.Count == 0
            ? $"add \"{name[..dot]}:\" under sites"
            : Nearest.Remedy(name[..dot], sites.Keys, $"add it under sites, which has"));
        return null;
    }

    private static Role? ReadRole(Section source, YamlPair? pair, FaultList faults)
    {
        if (source.Text(pair) is not { } text) return null;
        var index = Array.FindIndex(Roles, role => role.Equals(text, StringComparison.OrdinalIgnoreCase));
        if (index >= 0) return (Role)index;
        faults.Add(PlanFault.UnknownWord, pair!.Value.Place, $"\"{text}\" is not a role", Nearest.Remedy(text, Roles, "write one of"));
        return null;
    }

    private static int? ReadStaff(Section source, YamlPair? pair, FaultList faults)
    {
        if (source.Text(pair) is not { } text) return null;
        if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var staff))
            faults.Add(PlanFault.NotAQuantity, pair!.Value.Place, $"\"{text}\" is not a staff", "write the number of a staff of the part, 1 for the top one");
        else if (staff is < 1 or > HighestStaff)
            faults.Add(PlanFault.OutOfRange, pair!.Value.Place, $"there is no staff {staff}", $"staves count from 1 at the top to {HighestStaff}");
        else return staff;
        return null;
    }

    private static int? ReadStrip(Section source, YamlPair? pair, FaultList faults)
    {
        if (source.Text(pair) is not { } text) return null;
        if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var strip))
            faults.Add(PlanFault.NotAQuantity, pair!.Value.Place, $"\"{text}\" is not a strip",
                "write the number of a channel of the desk, such as 1");
        else if (strip is < 1 or > HighestStrip)
            faults.Add(PlanFault.OutOfRange, pair!.Value.Place, $"there is no strip {strip}", $"strips count from 1 to {HighestStrip}");
        else return strip;
        return null;
    }
}
