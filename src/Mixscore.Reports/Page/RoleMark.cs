using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>A shape and a class for each role, so that colour never carries the meaning alone.</summary>
internal static class RoleMark
{
    internal static string Class(Role role) => role switch
    {
        Role.Voice => "voice",
        Role.Instrument => "instrument",
        _ => "ambient",
    };

    /// <summary>A disc for a voice, a square for an instrument, a hexagon for an engine.</summary>
    internal static string Svg(Role role)
    {
        var shape = role switch
        {
            Role.Voice => "<circle cx=\"8\" cy=\"8\" r=\"6\"/>",
            Role.Instrument => "<rect x=\"2.5\" y=\"2.5\" width=\"11\" height=\"11\" rx=\"1\"/>",
            _ => "<path d=\"M8 1.2L14 4.6V11.4L8 14.8L2 11.4V4.6Z\"/>",
        };
        return $"<svg class=\"mark {Class(role)}\" viewBox=\"0 0 16 16\" role=\"img\" aria-label=\"{Class(role)}\">{shape}</svg>";
    }
}
