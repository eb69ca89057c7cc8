using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>A shape and a class for each role, the same as on the page, so that colour never carries the meaning alone.</summary>
internal static class RoleMark
{
    internal static string Class(Role role) => role switch
    {
        Role.Voice => "voice",
        Role.Instrument => "instrument",
        _ => "ambient",
    };

    /// <summary>A disc for a voice, a diamond for an instrument, an open triangle for an engine.</summary>
    internal static string Svg(Role role)
    {
        var shape = role switch
        {
            Role.Voice => "<circle cx=\"8\" cy=\"8\" r=\"6\"/>",
            Role.Instrument => "<path d=\"M8 1L15 8L8 15L1 8Z\"/>",
            _ => "<path class=\"open\" d=\"M8 2.5L14 13.5H2Z\"/>",
        };
        return $"<svg class=\"mark {Class(role)}\" viewBox=\"0 0 16 16\" role=\"img\" aria-label=\"{Class(role)}\">{shape}</svg>";
    }
}
