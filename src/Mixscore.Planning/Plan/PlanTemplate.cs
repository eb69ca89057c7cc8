using System.Globalization;
using System.Text;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A site of a plan that is to be written.</summary>
/// <param name="Name">Letters, digits, - and _.</param>
/// <param name="Delay">How much later than the click its feeds arrive.</param>
public sealed record NewSite(string Name, Seconds Delay);

/// <summary>A source of a plan that is to be written.</summary>
/// <param name="Name">Its site, a dot and a name.</param>
/// <param name="Role">What it is.</param>
/// <param name="Stem">The recorded feed, relative to the project folder.</param>
/// <param name="Strip">The channel of the desk, from 1.</param>
/// <param name="Part">The part that it plays; <c>null</c> where none is named.</param>
public sealed record NewSource(string Name, Role Role, string Stem, int Strip, string? Part = null);

/// <summary>Writes the text of a new plan, with comments that explain its language.</summary>
public static class PlanTemplate
{
    /// <summary>The text of a plan that <see cref="PlanReader"/> reads back as these sites and sources, without marks.</summary>
    /// <param name="title">The title of the piece.</param>
    /// <param name="score">The score's file, relative to the project folder.</param>
    /// <param name="sites">The sites, at least one.</param>
    /// <param name="sources">The sources, at least one.</param>
    public static string Write(string title, string score, IReadOnlyList<NewSite> sites, IReadOnlyList<NewSource> sources)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"""
            # yaml-language-server: $schema={PlanSchema.FileName}
            title: {YamlScalar.Write(title, inFlow: false)}
            score: {YamlScalar.Write(score, inFlow: false)}
            reference: -23 LUFS         # the loudness that 0 LU stands for

            # Where the score leaves the tempo open, in quarters a minute:
            # tempo:
            #   D: 72 > 60 by end       # a change, straight over quarters
            #   40:4: hold 3.5 s        # a fermata: this beat lasts so long in all
            # Where the players' click has another tempo than the score, and where they leave the repeats out:
            # tempo-from: click.mid     # or {"{"} file: click.mid, begin: 3 {"}"} behind two bars of count-in
            # repeats: no

            sites:

            """);
        foreach (var site in sites)
            text.Append(CultureInfo.InvariantCulture,
                $"  {YamlScalar.Write(site.Name, inFlow: false)}: {{ link: {{ delay: {site.Delay.Value * 1000:0.###} ms, on-drop: fade 300 ms }} }}\n");
        text.Append("""

            # role: voice, instrument or ambient. within: how far a source may stray from its level, 2 LU where nothing is written.
            # window: over how long its loudness is taken, 3 s where nothing is written. staff: the one staff of its part that it plays.
            sources:

            """);
        var rows = sources.Select(Row).ToList();
        var widths = Enumerable.Range(0, 3).Select(column => rows.Max(row => row[column].Length)).ToArray();
        foreach (var row in rows)
            text.Append(CultureInfo.InvariantCulture,
                $"  {row[0].PadRight(widths[0])} {{ {row[1].PadRight(widths[1])} {row[2].PadRight(widths[2])} {row[3]} }}\n");
        text.Append(CultureInfo.InvariantCulture, $"""

            # Under each source its marks: where, and how loud it should be heard there. A mark holds until the next.
            #   {sources[0].Name}:
            #     1: off
            #     5: -18                # LU over the reference
            #     9..13: -18 > -6       # a move over a range, straight in LU
            #     C: mf                 # a dynamic, from the table below
            #     D+4:3: under {(sources.Count > 1 ? sources[^1].Name : "another.source")} by 8
            # A level may end in "clear 4 LU": it then stands so far over everything else, bar by bar.
            # Positions: 17 a bar, 17:3 its third beat, 17:3+1/2 half a beat later, 17@2 the second time through, C a letter,
            # C+4 four bars after it, II/17 a bar of the second movement, end.
            levels:

            # Who leads, for the clarity of the check; where nothing is written the loudest by level.
            # lead: {"{"} 1: {sources[0].Name}, C: loudest {"}"}

            # Where the fader must stand, whatever the marks ask: a vertex, or a stretch that is straight, in dB of the fader.
            # pins:
            #   {sources[0].Name}: {"{"} 17: -4, 20..24: -6 > -2 {"}"}

            # What dynamics stand for; these are defaults of our own, to be set by ear.
            # dynamics: {OursInBraces()}

            # Where the vertices of rides may stand: beats, halves (of beats, too) or bars; a source may say otherwise.
            # grid: beats
            limits: {"{"} fader: -60 .. +10 dB, speed: 24 dB/s, hand: 120 dB/s, true-peak: -1 dBTP {"}"}

            """);
        return text.ToString();
    }

    private static string[] Row(NewSource source) =>
    [
        $"{YamlScalar.Write(source.Name, inFlow: false)}:",
        $"role: {source.Role.ToString().ToLowerInvariant()},",
        $"stem: {YamlScalar.Write(source.Stem, inFlow: true)},",
        string.Create(CultureInfo.InvariantCulture, $"strip: {source.Strip}") + (source.Part is null ? ""
            : $", part: {YamlScalar.Write(source.Part, inFlow: true)}"),
    ];

    private static string OursInBraces()
    {
        var ours = DynamicsTable.Ours;
        return $"{{ {string.Join(", ", ours.Names.Select(name => string.Create(CultureInfo.InvariantCulture, $"{name}: {ours[name]!.Value.Value}")))} }}";
    }
}
