namespace Mixscore.Planning;

/// <summary>What a source's levels and loudness ask of its fader, as a <see cref="BandProblem"/>.</summary>
internal static class AskedBand
{
    public static BandProblem Of(SourceToFit source, FaderGrid grid, ScoreTrace trace, StepMoves steps, Limits limits, HeardTogether heard)
    {
        var samples = new List<BandSample>(trace.Count);
        var move = 0;
        foreach (var (at, loudness) in trace.Active)
        {
            while (move < steps.Moves.Count && steps.Moves[move].Place.ToDouble() <= at) move++;
            var current = move < steps.Moves.Count && grid.Beats[steps.Moves[move].Start] < at ? steps.Moves[move] : null;
            var segment = source.Levels.SegmentAt(at);
            if (Levels(source, segment, grid, trace, limits, heard, current, at) is not { } asked) continue;
            var within = segment.Within(source.Within).Value;
            var (low, high) = (asked.Low - within - loudness, asked.High + within - loudness);
            // Leaning on a source that fades away asks for less than any fader gives: the bottom will do.
            if (segment is LevelSegment.Leaning) high = Math.Max(high, limits.Bottom.Value);
            var sample = new BandSample(at, low, high, asked.Middle - loudness);
            foreach (var drawnIn in source.DrawnIn) sample = drawnIn.Of(sample);
            samples.Add(sample);
        }
        PinnedStretch[] pins = [.. source.Pins.Select(pin => new PinnedStretch(grid.AtOrBefore(pin.From), grid.AtOrBefore(pin.To), pin.Start.Value, pin.End.Value))];
        return new BandProblem(
            grid.Beats, grid.Steepest, [.. samples], limits.Bottom.Value, limits.Top.Value,
            OffBesidePins.Of(steps.Off, pins, grid, limits.Bottom.Value), pins, GoodBeats.Costs(grid, trace));
    }

    /// <summary>The lowest, highest and best level at a place; <c>null</c> where nothing is asked: off, on the way to off, or leaning on nothing.</summary>
    private static (double Low, double High, double Middle)? Levels(
        SourceToFit source, LevelSegment segment, FaderGrid grid, ScoreTrace trace, Limits limits, HeardTogether heard, StepMove? move, double at)
    {
        if (move is { IsIntoOff: true }) return null;
        if (segment is LevelSegment.Off || AskedLevel.At(source.Levels, segment, at, heard) is not { } level) return null;
        if (segment is LevelSegment.Straight { Start: null } or LevelSegment.Straight { End: null })
        {
            var straight = StraightFade(source, (LevelSegment.Straight)segment, trace, limits, at);
            return (Math.Min(level, straight), Math.Max(level, straight), straight);
        }
        if (move is null || AskedLevel.At(source.Levels, move.After, move.Place.ToDouble(), heard) is not { } next) return (level, level, level);
        var (start, done) = (grid.Beats[move.Start], grid.Beats[move.Done]);
        var part = done > start ? Math.Clamp((at - start) / (done - start), 0, 1) : 1;
        return (Math.Min(level, next), Math.Max(level, next), level + (next - level) * part);
    }

    /// <summary>
    /// The level that a straight fade of the fader gives on its way from the bottom, or to it: at the far end the fader is at
    /// its bottom whatever the source's own loudness, so the level there is not the line's.
    /// </summary>
    private static double StraightFade(SourceToFit source, LevelSegment.Straight fade, ScoreTrace trace, Limits limits, double at)
    {
        var part = AskedLevel.Part(fade, at);
        var open = fade.Start is null ? part : 1 - part;
        var loudness = trace.At(at) ?? 0;
        var goal = (fade.Start ?? fade.End ?? source.Levels.Bottom).Value - loudness;
        return limits.Bottom.Value + (goal - limits.Bottom.Value) * open + loudness;
    }
}
