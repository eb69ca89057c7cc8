namespace Mixscore.Outside.Tests.Wire;

/// <summary>The program at the other end of timecode, by libltc (Debian).</summary>
internal static class LtcPeer
{
    /// <summary>Compiles it into a folder.</summary>
    internal static string Compile(string folder)
    {
        var program = Path.Combine(folder, "peer");
        var built = Outside.Run("gcc", "-Wall", "-O1", "-o", program, Path.Combine(Outside.Sources, "ltc", "peer.c"), "-lltc", "-lm");
        Assert.True(built.Code == 0, built.Error);
        return program;
    }
}
