namespace Mixscore.Score;

/// <summary>
/// Makes sure that every place of a score can be counted exactly: all lengths have a common denominator of at most
/// 2³⁰, and the whole is short enough that no sum of them leaves 64 bits, whatever the repeats.
/// </summary>
internal static class Countable
{
    private const long MostParts = 1L << 30;
    private const double MostBeats = 2_000_000;

    internal static void Require(WrittenScore score)
    {
        long common = 1;
        var beats = 0.0;
        foreach (var bar in score.Bars)
        {
            common = Common(common, bar.Length, score.File);
            foreach (var beat in bar.Meter.Beats) if (common % beat.Value.Denominator != 0) common = Common(common, beat, score.File);
            beats += bar.Length.ToDouble() / bar.Meter.Unit.ToDouble();
        }
        if (beats > MostBeats)
            throw new InputException(new Fault("MX009", new Place(score.File), "the score has more than two million beats", "look for a wrong duration, divisions or time signature"));
        foreach (var part in score.Parts)
        {
            foreach (var note in part.Notes)
                common = Common(Common(common, note.Start.Offset, score.File), note.Length, score.File);
            foreach (var mark in part.Dynamics) common = Common(common, mark.At.Offset, score.File);
            foreach (var hairpin in part.Hairpins)
                common = Common(Common(common, hairpin.From.Offset, score.File), hairpin.To.Offset, score.File);
        }
    }

    private static long Common(long common, Quarters length, string file)
    {
        var denominator = length.Value.Denominator;
        if (common % denominator == 0) return common;
        var product = (Int128)common * (denominator / Divisor(common, denominator));
        return product <= MostParts
            ? (long)product
            : throw new InputException(new Fault("MX009", new Place(file), "the divisions of the score have no common measure that can be counted", "export the score again with the same divisions in every part"));
    }

    private static long Divisor(long a, long b)
    {
        while (b != 0) (a, b) = (b, a % b);
        return a;
    }
}
