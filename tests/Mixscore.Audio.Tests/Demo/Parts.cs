using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Demo;

/// <summary>A small piece for two sites, at 60 quarters a minute, and a plan for it.</summary>
internal static class Parts
{
    //  bar    1        2        3        4        5        6
    //  voice           |--------|                 |----|          A4, then D5
    //  horn   |--------|--------|                 |--------|      mf, cresc. over bar 2 to f
    //  engine |--------|--------|--------|--------|               runs through four bars
    public static PerformedPart Voice { get; } = Part("P1", "North voice",
        [Note(4, 4, 69, "Light"), Note(8, 1, 74, null), Note(16, 2, 74, "stay")], [Mark(0, "mp")]);

    public static PerformedPart Horn { get; } = Part("P2", "North horn",
        [Note(0, 4, 57), Note(4, 4, 60), Note(16, 4, 62)], [Mark(0, "mf"), Mark(8, "f")],
        [new PerformedHairpin(new Quarters(4), new Quarters(8), true, false, 1, false)]);

    public static PerformedPart Engine { get; } = Part("P3", "North engine", [.. Enumerable.Range(0, 4).Select(i => Note(4 * i, 4, null))], [Mark(0, "f")]);

    public static Timeline Timeline { get; } = Piece.Of(6);

    public static Performance Performance { get; } = new([Voice, Horn, Engine]);

    public static MixPlan Plan(Folder folder)
    {
        var (north, south) = (Piece.Site("north", 0.05), Piece.Site("south", 0.2));
        var plan = Piece.Plan(folder, ("north.voice", north, "s/nv.wav"), ("north.horn", north, "s/nh.wav"), ("north.engine", north, "s/ne.wav"), ("south.cello", south, "s/sc.wav"));
        var (roles, parts) = (new[] { Role.Voice, Role.Instrument, Role.Ambient, Role.Instrument }, new[] { "P1", "North horn", "P3", "P2" });
        return plan with { Sources = [.. plan.Sources.Select((source, i) => source with { Role = roles[i], Part = parts[i] })] };
    }

    public static PerformedPart Part(string id, string name, IReadOnlyList<PerformedNote> notes, IReadOnlyList<PerformedMark> marks, IReadOnlyList<PerformedHairpin>? hairpins = null) =>
        new() { Id = id, Name = name, Notes = notes, Dynamics = marks, Hairpins = hairpins ?? [], Words = [] };

    public static PerformedNote Note(long at, long length, int? pitch, string? syllable = null) => new(new Quarters(at), new Quarters(length), pitch, syllable, 1);

    public static PerformedMark Mark(long at, string text) => new(new Quarters(at), text, 1, 1, 1, null);
}
