namespace Mixscore.Desk;

/// <summary>Why points do not make a law.</summary>
/// <param name="Point">The index of the point that spoils it, from 0; <c>null</c> where it is the value of off or the number of points.</param>
/// <param name="Found">What is wrong.</param>
/// <param name="Remedy">What would be right.</param>
internal sealed record LawProblem(int? Point, string Found, string Remedy)
{
    /// <summary>The first problem in points, or <c>null</c> where they make a law.</summary>
    public static LawProblem? In(IReadOnlyList<LawPoint> points, double off, WireNumber number)
    {
        if (points.Count < 2)
            return new LawProblem(null, $"a law of {points.Count} point{(points.Count == 1 ? "" : "s")} says nothing", "give at least two points, [dB, value]");
        double Value(int i) => FaderLaw.Round(points[i].Value, number);
        for (var i = 0; i < points.Count; i++)
            if (number == WireNumber.Whole && points[i].Value != Math.Round(points[i].Value))
                return new LawProblem(i, $"{points[i].Value} is not a whole number", "this type carries whole numbers only");
        var gainsRise = Math.Sign((points[^1].Gain - points[0].Gain).Value);
        var valuesRise = Math.Sign(Value(points.Count - 1) - Value(0));
        for (var i = 1; i < points.Count; i++)
        {
            if (Math.Sign((points[i].Gain - points[i - 1].Gain).Value) * gainsRise != 1)
                return new LawProblem(i, $"the gain does not go on from {points[i - 1].Gain.Value} dB to {points[i].Gain.Value} dB", "order the points by gain, each gain once");
            if (Math.Sign(Value(i) - Value(i - 1)) * valuesRise != 1)
                return new LawProblem(i, $"the value does not go on from {points[i - 1].Value} to {points[i].Value}", "let values rise all the way, or fall all the way, as the gain rises");
        }
        var softest = Value(gainsRise > 0 ? 0 : points.Count - 1);
        var louder = gainsRise * valuesRise;
        return (FaderLaw.Round(off, number) - softest) * louder > 0
            ? new LawProblem(null, $"off is {off}, which the law already uses for a gain", $"off must not be louder than the law's softest value, {softest}")
            : null;
    }
}
