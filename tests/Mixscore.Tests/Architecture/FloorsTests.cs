using System.Xml.Linq;

namespace Mixscore.Tests.Architecture;

/// <summary>One way down: a project leans only on the floors below it. Read from the project files, so that a reference not yet used is caught too.</summary>
public class FloorsTests
{
    // The table in DEVELOPERS.md, lowest first. A project may lean on what its row names and on what those lean on.
    private static readonly (string Project, string[] LeansOn)[] Floors =
    [
        ("Mixscore.Score", []),
        ("Mixscore.Loudness", []),
        ("Mixscore.Protocols", []),
        ("Mixscore.Planning", ["Mixscore.Score", "Mixscore.Loudness"]),
        ("Mixscore.Audio", ["Mixscore.Planning", "Mixscore.Loudness"]),
        ("Mixscore.Desk", ["Mixscore.Planning", "Mixscore.Protocols"]),
        ("Mixscore.Reports", ["Mixscore.Audio"]),
        ("Mixscore.Live", ["Mixscore.Desk"]),
        ("Mixscore.Page", ["Mixscore.Live", "Mixscore.Audio", "Mixscore.Reports"]),
        ("Mixscore", ["Mixscore.Audio", "Mixscore.Desk", "Mixscore.Reports", "Mixscore.Live", "Mixscore.Page"]),
    ];

    public static TheoryData<string> Projects => [.. Directory.GetDirectories(Repository.PathOf("src")).Select(folder => Path.GetFileName(folder)!)];

    [Theory, MemberData(nameof(Projects))]
    public void A_project_leans_only_on_the_floors_below(string project)
    {
        var row = Assert.Single(Floors, floor => floor.Project == project);
        var upward = References(project, "ProjectReference").Select(path => Path.GetFileNameWithoutExtension(path)).Except(row.LeansOn);
        Assert.True(!upward.Any(), $"{project} may lean on {string.Join(", ", row.LeansOn.DefaultIfEmpty("nothing"))}; it must not lean on {string.Join(", ", upward)}");
    }

    [Fact]
    public void The_table_itself_points_down()
    {
        for (var i = 0; i < Floors.Length; i++)
            Assert.All(Floors[i].LeansOn, lower => Assert.Contains(lower, Floors[..i].Select(floor => floor.Project)));
    }

    // Score, Loudness and Protocols are to be used for their own sake: they bring nothing along.
    [Theory, InlineData("Mixscore.Score"), InlineData("Mixscore.Loudness"), InlineData("Mixscore.Protocols")]
    public void The_lowest_floor_needs_no_package(string project) => Assert.Empty(References(project, "PackageReference"));

    private static IEnumerable<string> References(string project, string kind) =>
        XDocument.Load(Repository.PathOf("src", project, project + ".csproj")).Descendants(kind).Select(element => element.Attribute("Include")!.Value);
}
