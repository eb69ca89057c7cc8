namespace Mixscore.Page;

/// <summary>What a page says about who may order.</summary>
internal abstract record HandOrder
{
    /// <summary>It is there.</summary>
    /// <param name="Word">What it calls itself: made up by the page, the same when it comes back.</param>
    internal sealed record Join(string Word) : HandOrder;

    /// <summary>It asks for the hand, or no longer.</summary>
    internal sealed record Ask(bool Asks) : HandOrder;

    /// <summary>It gives the hand to another that asked, or keeps it.</summary>
    internal sealed record Answer(string Name, bool Gives) : HandOrder;
}
