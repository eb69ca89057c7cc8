using System.Globalization;
using System.Text;

namespace Mixscore.Score.Tests;

/// <summary>What a random score may hold.</summary>
/// <param name="MarksInsideBars">Whether tempo marks stand inside bars, too.</param>
/// <param name="MarksWhereJumpsLead">Whether every bar that may follow one other than its neighbour has a tempo mark of its own.</param>
/// <param name="NestedRepeats">Whether repeats stand inside repeats.</param>
internal sealed record RandomShape(bool MarksInsideBars = true, bool MarksWhereJumpsLead = false, bool NestedRepeats = true);

/// <summary>Scores as MusicXML, the same for the same seed: repeats, endings and jumps of every kind, random meters, divisions and tempi.</summary>
internal sealed class RandomScores
{
    private static readonly (int Beats, int Unit)[] Meters = [(4, 4), (3, 4), (2, 4), (6, 8), (5, 8), (2, 2), (9, 8), (7, 8), (1, 4), (3, 2)];

    private readonly Random _random;
    private readonly RandomShape _shape;
    private readonly List<Bar> _bars = [];

    private RandomScores(int seed, RandomShape shape) => (_random, _shape) = (new Random(seed), shape);

    /// <summary>The signs of one bar: what stands on its left and right barline, before and behind its notes.</summary>
    private sealed class Bar
    {
        public string Left = "", Before = "", Behind = "", Right = "";
    }

    /// <summary>The score of a seed.</summary>
    internal static string Of(int seed, RandomShape shape)
    {
        var scores = new RandomScores(seed, shape);
        scores.LayForm();
        return scores.Write(parts: 1 + scores._random.Next(2));
    }

    private bool Chance(int inHundred) => _random.Next(100) < inHundred;

    private List<Bar> Plain(int count)
    {
        var bars = Enumerable.Range(0, count).Select(_ => new Bar()).ToList();
        _bars.AddRange(bars);
        return bars;
    }

    private void LayForm()
    {
        var blocks = 1 + _random.Next(4);
        var first = Plain(1 + _random.Next(2));
        for (var i = 0; i < blocks; i++)
        {
            var kind = _random.Next(4);
            if (kind == 0) Plain(1 + _random.Next(3));
            else if (kind == 1) Repeat();
            else if (kind == 2) Endings();
            else if (_shape.NestedRepeats) Nested();
            else Repeat();
        }
        Jump(first[0]);
    }

    private void Repeat()
    {
        var bars = Plain(1 + _random.Next(3));
        var times = Chance(30) ? 3 + _random.Next(3) : 2;
        bars[0].Left += "<repeat direction=\"forward\"/>";
        bars[^1].Right += $"<repeat direction=\"backward\"{(times > 2 ? $" times=\"{times}\"" : "")}/>";
    }

    private void Nested()
    {
        var outer = Plain(1);
        Repeat();
        var close = Plain(1);
        outer[0].Left += "<repeat direction=\"forward\"/>";
        close[0].Right += "<repeat direction=\"backward\"/>";
    }

    private void Endings()
    {
        var common = Plain(1 + _random.Next(2));
        common[0].Left += "<repeat direction=\"forward\"/>";
        string[][] choices = [["1", "2"], ["1, 2", "3"], ["1", "2", "3"]];
        var numbers = choices[_random.Next(choices.Length)];
        foreach (var number in numbers)
        {
            var bars = Plain(1 + _random.Next(2));
            bars[0].Left += $"<ending number=\"{number}\" type=\"start\"/>";
            bars[^1].Right += $"<ending number=\"{number}\" type=\"{(number == numbers[^1] && Chance(50) ? "discontinue" : "stop")}\"/>";
            if (number != numbers[^1]) bars[^1].Right += "<repeat direction=\"backward\"/>";
        }
    }

    /// <summary>Ends the piece plainly, or with one of the jumps.</summary>
    private void Jump(Bar start)
    {
        switch (_random.Next(5))
        {
            case 0:
                Plain(1)[0].Behind += Draw.Sound("fine=\"yes\"");
                Plain(1 + _random.Next(2))[^1].Behind += Draw.Sound("dacapo=\"yes\"");
                break;
            case 1:
                Plain(1)[0].Before += Draw.Sound("segno=\"s\"");
                Plain(1)[0].Behind += Draw.Sound("fine=\"yes\"");
                Plain(1)[0].Behind += Draw.Sound("dalsegno=\"s\"");
                break;
            case 2:
                start.Before += Draw.Sound("segno=\"s\"");
                Plain(1)[0].Behind += Draw.Sound("tocoda=\"c\"");
                Plain(1 + _random.Next(2))[^1].Behind += Draw.Sound("dalsegno=\"s\"");
                Plain(1 + _random.Next(2))[0].Before += Draw.Sound("coda=\"c\"");
                break;
            case 3:
                Plain(1)[0].Behind += Draw.Sound("tocoda=\"c\"");
                Plain(1)[0].Behind += Draw.Sound("dacapo=\"yes\"");
                Plain(1)[0].Before += Draw.Sound("coda=\"c\"");
                break;
        }
    }

    private string Write(int parts)
    {
        var content = new StringBuilder[parts];
        for (var p = 0; p < parts; p++) content[p] = new StringBuilder($"<part id=\"P{p + 1}\">");
        var meter = (Beats: 4, Unit: 4);
        for (var i = 0; i < _bars.Count; i++)
        {
            var meterChanges = i == 0 || Chance(25);
            if (meterChanges) meter = Meters[_random.Next(Meters.Length)];
            var tempo = i == 0 || Chance(30) || (_shape.MarksWhereJumpsLead && MayFollowAnother(i)) ? Draw.Sound($"tempo=\"{_random.Next(30, 240)}\"") : "";
            for (var p = 0; p < parts; p++)
                content[p].Append(Measure(i, p, meter, meterChanges, p == 0 ? tempo : ""));
        }
        var xml = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?><score-partwise version=\"4.0\"><part-list>");
        for (var p = 0; p < parts; p++) xml.Append($"<score-part id=\"P{p + 1}\"><part-name>Part {p + 1}</part-name></score-part>");
        xml.Append("</part-list>");
        foreach (var part in content) xml.Append(part).Append("</part>");
        return xml.Append("</score-partwise>").ToString();
    }

    /// <summary>Whether a jump, a repeat or a left-out ending may lead to a bar.</summary>
    private bool MayFollowAnother(int i) => i == 0 || _bars[i].Left.Length > 0 || _bars[i].Before.Length > 0 || _bars[i - 1].Right.Length > 0 || _bars[i - 1].Behind.Length > 0;

    private string Measure(int i, int part, (int Beats, int Unit) meter, bool meterChanges, string tempo)
    {
        var bar = _bars[i];
        var divisions = 8 * (1 + _random.Next(3));
        var xml = new StringBuilder(string.Create(CultureInfo.InvariantCulture, $"<measure number=\"{i + 1}\">"));
        if (bar.Left.Length > 0) xml.Append(Draw.Left(InOrder(bar.Left)));
        xml.Append($"<attributes><divisions>{divisions}</divisions>");
        if (meterChanges) xml.Append($"<time><beats>{meter.Beats}</beats><beat-type>{meter.Unit}</beat-type></time>");
        xml.Append("</attributes>");
        if (part == 0) xml.Append(bar.Before).Append(tempo);
        for (var beat = 0; beat < meter.Beats; beat++)
        {
            if (beat > 0 && part == 0 && _shape.MarksInsideBars && Chance(6)) xml.Append(Draw.Sound($"tempo=\"{_random.Next(30, 240)}\""));
            xml.Append($"<note><pitch><step>{"CDEFGAB"[_random.Next(7)]}</step><octave>4</octave></pitch><duration>{divisions * 4 / meter.Unit}</duration><type>{NameOf(meter.Unit)}</type></note>");
        }
        if (part == 0) xml.Append(bar.Behind);
        if (bar.Right.Length > 0) xml.Append(Draw.Right(InOrder(bar.Right)));
        return xml.Append("</measure>").ToString();
    }

    /// <summary>Within a barline the ending comes before the repeat. Source: MusicXML 4.0, barline.</summary>
    private static string InOrder(string signs)
    {
        var at = signs.IndexOf("<ending", StringComparison.Ordinal);
        return at > 0 ? signs[at..] + signs[..at] : signs;
    }

    private static string NameOf(int unit) => unit switch
    {
        1 => "whole",
        2 => "half",
        4 => "quarter",
        8 => "eighth",
        _ => "16th",
    };
}
