namespace Mixscore.Desk;

/// <summary>The codes of what can be wrong with a desk map. They never change their meaning; YAML's own faults have the plan's codes.</summary>
internal static class DeskFault
{
    /// <summary>Neither <c>osc</c> nor <c>midi</c>.</summary>
    internal const string NotAProtocol = "MX301";

    /// <summary>Not an endpoint.</summary>
    internal const string NotAnEndpoint = "MX302";

    /// <summary>An endpoint that does not go with the protocol.</summary>
    internal const string WrongCarrier = "MX303";

    /// <summary>Not an address, or a formula that cannot be read.</summary>
    internal const string NotAnAddress = "MX304";

    /// <summary>An address that is the same for every strip.</summary>
    internal const string NoStrip = "MX305";

    /// <summary>Not a type of OSC that a control can have.</summary>
    internal const string NotAType = "MX306";

    /// <summary>Not a law.</summary>
    internal const string NotALaw = "MX307";

    /// <summary>Not a number, or one that the wire cannot carry.</summary>
    internal const string NotAValue = "MX308";

    /// <summary>None, or more than one, of <c>control</c>, <c>nrpn</c> and <c>pitch-bend</c>.</summary>
    internal const string NotOneKind = "MX309";

    /// <summary>Neither 7 nor 14 bits, or not those that the kind has.</summary>
    internal const string NotBits = "MX310";

    /// <summary>A strip of the plan that has no address on the desk.</summary>
    internal const string NoAddress = "MX311";

    /// <summary>Two strips of the plan that share an address.</summary>
    internal const string OneAddressForTwo = "MX312";

    /// <summary>A law that does not reach as far as the plan's faders.</summary>
    internal const string NarrowLaw = "MX313";
}
