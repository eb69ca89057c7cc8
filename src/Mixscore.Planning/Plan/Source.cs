using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One feed.</summary>
public sealed record Source
{
    /// <summary>Such as <c>north.voice</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The site that it comes from.</summary>
    public required Site Site { get; init; }

    /// <summary>What it is.</summary>
    public required Role Role { get; init; }

    /// <summary>The recorded feed, as written in the plan: relative to the project folder.</summary>
    public required string Stem { get; init; }

    /// <summary>Where the piece begins in the stem; below 0 where the recorder was started after it.</summary>
    public Seconds Start { get; init; }

    /// <summary>The channel of the stem that holds the feed, from 1; <c>null</c> for all.</summary>
    public int? Channel { get; init; }

    /// <summary>The channel of the desk, from 1.</summary>
    public required int Strip { get; init; }

    /// <summary>How far it may stray from its level; above 0.</summary>
    public Decibels Within { get; init; } = Decibels.Of(2);

    /// <summary>How much higher all its levels count than they are written: what the engineer adds in every hall.</summary>
    public Decibels Offset { get; init; }

    /// <summary>How much higher they count in the hall that the plan is for.</summary>
    public Decibels HallOffset { get; init; }

    /// <summary>The window over which its loudness is taken, for the fit and the check; 3 s is the short-term window of EBU Tech 3341.</summary>
    public Seconds Window { get; init; } = UsualWindow;

    /// <summary>Where the vertices of its ride may stand.</summary>
    public VertexGrid Grid { get; init; }

    /// <summary>3 s: EBU Tech 3341 (2023) §2.2.</summary>
    public static Seconds UsualWindow { get; } = new(3);

    /// <summary>The part of the score that it plays, as the id or the name in the file; <c>null</c> where none is named.</summary>
    public string? Part { get; init; }

    /// <summary>The staff of its part that it plays, from 1 at the top; <c>null</c> for the whole part.</summary>
    public int? Staff { get; init; }

    /// <summary>Where it stands in the plan.</summary>
    public required Place Place { get; init; }

    /// <summary>Where its stem is named; <c>null</c> where it was not read from a file.</summary>
    public Place? StemPlace { get; init; }

    /// <summary>Where its strip is named; <c>null</c> where it was not read from a file.</summary>
    public Place? StripPlace { get; init; }

    /// <summary>Where its part is named; <c>null</c> where none is.</summary>
    public Place? PartPlace { get; init; }

    /// <summary>Where its staff is named; <c>null</c> where none is.</summary>
    public Place? StaffPlace { get; init; }
}

/// <summary>What a feed is.</summary>
public enum Role
{
    /// <summary>A voice microphone.</summary>
    Voice,

    /// <summary>An instrument microphone.</summary>
    Instrument,

    /// <summary>A microphone on the machine that carries the player.</summary>
    Ambient,
}
