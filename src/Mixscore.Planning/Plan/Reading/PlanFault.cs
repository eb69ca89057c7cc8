namespace Mixscore.Planning;

/// <summary>The codes of what can be wrong with a plan. They never change their meaning.</summary>
internal static class PlanFault
{
    /// <summary>The text is not YAML, or not text.</summary>
    internal const string NotYaml = "MX101";

    /// <summary>Too long, or nested too deep.</summary>
    internal const string TooMuch = "MX102";

    /// <summary>YAML that a plan does not take: aliases, tags, merge keys, several documents.</summary>
    internal const string NotTaken = "MX103";

    /// <summary>Not a level.</summary>
    internal const string NotALevel = "MX104";

    /// <summary>A key that is not known there.</summary>
    internal const string UnknownKey = "MX105";

    /// <summary>A key that stands twice.</summary>
    internal const string TwiceTheKey = "MX106";

    /// <summary>A key that must be there is not.</summary>
    internal const string MissingKey = "MX107";

    /// <summary>A list, a mapping or a text where another of them belongs.</summary>
    internal const string WrongKind = "MX108";

    /// <summary>Nothing is written where a text belongs, or a text that cannot be one of its kind.</summary>
    internal const string NotAText = "MX109";

    /// <summary>Not a number with the unit that belongs there.</summary>
    internal const string NotAQuantity = "MX110";

    /// <summary>A number out of its range.</summary>
    internal const string OutOfRange = "MX111";

    /// <summary>Not a position, or not a range of positions.</summary>
    internal const string NotAPosition = "MX112";

    /// <summary>Not a tempo, a change of tempo or a hold.</summary>
    internal const string NotATempo = "MX113";

    /// <summary>Not one of the words that may stand there.</summary>
    internal const string UnknownWord = "MX114";

    /// <summary>A site's or a source's name that cannot be one.</summary>
    internal const string BadName = "MX115";

    /// <summary>A source whose site is not among the sites.</summary>
    internal const string UnknownSite = "MX116";

    /// <summary>Two sources on one strip.</summary>
    internal const string SharedStrip = "MX117";

    /// <summary>A source that is not among the sources.</summary>
    internal const string UnknownSource = "MX118";

    /// <summary>Sources that lean on one another in a circle.</summary>
    internal const string Circle = "MX119";

    /// <summary>A move without a range to move over.</summary>
    internal const string MoveWithoutRange = "MX120";

    /// <summary>A position that is not in the score.</summary>
    internal const string NotInScore = "MX130";

    /// <summary>A range that does not go forward, or a mark that nothing comes after.</summary>
    internal const string NoRoom = "MX131";

    /// <summary>Two marks, or two tempo entries, that speak of the same music.</summary>
    internal const string Overlap = "MX132";

    /// <summary>A part that is not in the score.</summary>
    internal const string UnknownPart = "MX133";

    /// <summary>A tempo entry that cannot stand where it stands.</summary>
    internal const string TempoOutOfPlace = "MX134";

    /// <summary>Warning: a source leans on one that is nowhere heard.</summary>
    internal const string LeansOnNothing = "MX135";

    /// <summary>A pin that does not stand on a beat.</summary>
    internal const string PinOffBeat = "MX136";

    /// <summary>A pin that the fader's speed does not let it keep.</summary>
    internal const string PinTooFast = "MX137";

    /// <summary>A plan whose layout cannot be edited line by line.</summary>
    internal const string CannotEdit = "MX140";
}
