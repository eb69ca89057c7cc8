using System.Text;
using CsCheck;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Levels;

/// <summary>What is printed for copying into a plan is what a plan takes.</summary>
public sealed class OpenTempoEntryTests
{
    private static readonly string[] Words = ["rit.", "rallentando", "allarg.", "accel.", "string.", "a tempo", "Tempo I", ""];

    // Law: every entry that is suggested for a random score parses, leaves the score without open places, and gives the
    // piece another length unless it only goes back to the tempo that is going.
    [Fact]
    public void Every_suggested_entry_parses_and_closes_its_place()
    {
        var bar = Gen.Select(Gen.Int[0, Words.Length - 1], Gen.Int[0, 3], Gen.Bool, Gen.Int[0, 6], Gen.Int[0, 9]);
        bar.Array[1, 12].Sample(bars =>
        {
            var score = Read(bars);
            var open = PlanOnScore.Resolve(Plans.Read(Plans.Head), score);
            if (open.OpenTempo.Count == 0) return;
            foreach (var one in open.OpenTempo)
            {
                var alone = PlanOnScore.Resolve(Plans.Read($"{Plans.Head}tempo:\n  {one.Entry}\n"), score);
                Assert.DoesNotContain(alone.OpenTempo, other => other.At == one.At && other.Words == one.Words);
                if (one.Words == "fermata" || one.Entry.Contains('>', StringComparison.Ordinal))
                    Assert.NotEqual(open.Timeline.Duration.Value, alone.Timeline.Duration.Value, 1e-9);
            }
        }, iter: 200);
    }

    // Four bars of four at 60: derived, a straight change from 60 to 48 over 8 quarters lasts 60·8/12 · ln(60/48) s.
    [Fact]
    public void What_is_suggested_has_the_length_that_it_states()
    {
        var rit = "<direction><direction-type><words>rit.</words></direction-type></direction>";
        Assert.Equal(("3: 60 > 48 by end", Math.Round(8 + 40 * Math.Log(60.0 / 48), 12)), Suggested("<sound tempo=\"60\"/>", "", rit, ""));
        Assert.Equal(("4: hold 2 s", 17.0), Suggested("<sound tempo=\"60\"/>", "", "", "FERMATA"));
    }

    private static (string Entry, double Seconds) Suggested(params string[] bars)
    {
        var score = Draw(bars);
        var entry = Assert.Single(PlanOnScore.Resolve(Plans.Read(Plans.Head), score).OpenTempo).Entry;
        var said = PlanOnScore.Resolve(Plans.Read($"{Plans.Head}tempo:\n  {entry}\n"), score);
        Assert.Empty(said.OpenTempo);
        return (entry, Math.Round(said.Timeline.Duration.Value, 12));
    }

    private static WrittenScore Read((int Words, int Beat, bool Fermata, int Tempo, int Meter)[] bars) => Draw([.. bars.Select((bar, i) =>
        (bar.Meter > 7 ? "<attributes><time><beats>3</beats><beat-type>8</beat-type></time></attributes>" : "")
        + (bar.Tempo > 4 ? $"<sound tempo=\"{(bar.Tempo == 5 ? 1.3 : 61.7 * bar.Tempo)}\"/>" : "")
        + string.Concat(Enumerable.Range(0, 4).Select(beat =>
            (beat == bar.Beat && Words[bar.Words].Length > 0 ? $"<direction><direction-type><words>{Words[bar.Words]}</words></direction-type></direction>" : "")
            + $"<note><rest/><duration>{(beat == 2 ? 5 : 4)}</duration>{(bar.Fermata && beat == bar.Beat ? "<notations><fermata/></notations>" : "")}</note>")))]);

    private static WrittenScore Draw(params string[] bars)
    {
        var xml = new StringBuilder("<score-partwise><part-list><score-part id=\"P1\"><part-name>Horn</part-name></score-part></part-list><part id=\"P1\">");
        for (var i = 0; i < bars.Length; i++)
        {
            var head = i == 0 ? "<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>" : "";
            var notes = bars[i].Contains("<note>", StringComparison.Ordinal) ? "" : $"<note><rest/><duration>16</duration>{(bars[i] == "FERMATA" ? "<notations><fermata/></notations>" : "")}</note>";
            xml.Append($"<measure number=\"{i + 1}\">{head}{bars[i].Replace("FERMATA", "", StringComparison.Ordinal)}{notes}</measure>");
        }
        return ScoreFile.Read(new MemoryStream(Encoding.UTF8.GetBytes(xml.Append("</part></score-partwise>").ToString())), "drawn.musicxml");
    }
}
