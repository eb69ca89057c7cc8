namespace Mixscore.Page;

/// <summary>What the engineer tells a rehearsal or a performance.</summary>
/// <param name="Number">The page's own number for it; told back with the sound that obeys it.</param>
internal abstract record Order(uint Number)
{
    internal sealed record Play(uint Number) : Order(Number);

    internal sealed record Pause(uint Number) : Order(Number);

    /// <summary>Begins a performance, with its count-in.</summary>
    /// <param name="Number">The page's number.</param>
    /// <param name="Quarters">Where, from the start as played; <c>null</c> for the beginning, or the bar where it was stopped.</param>
    internal sealed record Start(uint Number, double? Quarters) : Order(Number);

    internal sealed record Stop(uint Number) : Order(Number);

    /// <param name="Number">The page's number.</param>
    /// <param name="Still">Whether it stands still; otherwise the bar is played over and over.</param>
    internal sealed record Stay(uint Number, bool Still) : Order(Number);

    internal sealed record Release(uint Number) : Order(Number);

    /// <summary>Goes elsewhere: at once in a rehearsal, at the next barline in a performance.</summary>
    /// <param name="Number">The page's number.</param>
    /// <param name="Quarters">Where to, from the start as played.</param>
    internal sealed record Jump(uint Number, double Quarters) : Order(Number);

    /// <param name="Number">The page's number.</param>
    /// <param name="Bars">First and last played bar, from 1; <c>null</c> for straight on.</param>
    internal sealed record Loop(uint Number, (int First, int Last)? Bars) : Order(Number);

    /// <param name="Number">The page's number.</param>
    /// <param name="Source">Its place in the plan, from 0.</param>
    /// <param name="Gain">dB; <c>null</c> is off.</param>
    internal sealed record Take(uint Number, int Source, double? Gain) : Order(Number);

    internal sealed record Back(uint Number, int Source) : Order(Number);

    internal sealed record Offset(uint Number, int Source, double Gain) : Order(Number);

    internal sealed record Mute(uint Number, int Source, bool On) : Order(Number);

    internal sealed record Solo(uint Number, int Source, bool On) : Order(Number);

    /// <summary>Every fader stays where it is.</summary>
    internal sealed record Hold(uint Number) : Order(Number);

    internal sealed record AllBack(uint Number) : Order(Number);

    /// <summary>Faders move from now on, or no longer.</summary>
    internal sealed record Arm(uint Number, bool On) : Order(Number);

    /// <summary>A site's feeds are said to be there, or gone.</summary>
    /// <param name="Number">The page's number.</param>
    /// <param name="Site">Its name.</param>
    /// <param name="IsUp">Whether they are there.</param>
    internal sealed record Link(uint Number, string Site, bool IsUp) : Order(Number);

    /// <summary>A note for the log.</summary>
    internal sealed record Note(uint Number, string Text) : Order(Number);
}
