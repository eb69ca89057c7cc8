namespace Mixscore.Planning;

/// <summary>What is left of the stretches off beside pins: a pin within one stands, and the fader is off only where it can come down from it, or up to it, in time.</summary>
internal static class OffBesidePins
{
    public static OffStretch[] Of(OffStretch[] off, PinnedStretch[] pins, FaderGrid grid, double bottom)
    {
        if (pins.Length == 0) return off;
        var left = new List<OffStretch>();
        foreach (var stretch in off)
        {
            int? since = null;
            for (var beat = stretch.From; beat <= stretch.To; beat++)
            {
                var isOff = pins.All(pin => CanBeOff(beat, pin));
                if (isOff) since ??= beat;
                else if (since is { } from)
                {
                    left.Add(new OffStretch(from, beat - 1));
                    since = null;
                }
            }
            if (since is { } rest) left.Add(new OffStretch(rest, stretch.To));
        }
        return [.. left];

        bool CanBeOff(int beat, PinnedStretch pin) =>
            beat < pin.From ? pin.Start - bottom <= grid.MostMove(beat, pin.From)
            : beat > pin.To && pin.End - bottom <= grid.MostMove(pin.To, beat);
    }
}
