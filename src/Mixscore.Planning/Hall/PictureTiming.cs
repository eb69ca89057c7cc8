using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Whether a listener sees that sound and picture do not come together.</summary>
public enum PictureVerdict
{
    /// <summary>Within what is detectable.</summary>
    Together,

    /// <summary>It can be seen, and is still acceptable.</summary>
    Detectable,

    /// <summary>Not acceptable.</summary>
    TooFar,
}

/// <summary>Sound against picture. Source: Recommendation ITU-R BT.1359-1 (1998), considering g) and recommends 2.</summary>
public static class PictureTiming
{
    /// <summary>Sound early by so much, or late by so much, is detected: +45 ms, −125 ms.</summary>
    public static (Seconds Early, Seconds Late) Detectability { get; } = (new(0.045), new(0.125));

    /// <summary>Sound early by so much, or late by so much, is the limit of what is accepted: +90 ms, −185 ms.</summary>
    public static (Seconds Early, Seconds Late) Acceptability { get; } = (new(0.090), new(0.185));

    /// <summary>The verdict on sound that leads the picture by so much; below 0 it lags.</summary>
    public static PictureVerdict Of(Seconds lead) =>
        lead > Acceptability.Early || lead.Value < -Acceptability.Late.Value ? PictureVerdict.TooFar
        : lead > Detectability.Early || lead.Value < -Detectability.Late.Value ? PictureVerdict.Detectable
        : PictureVerdict.Together;
}
