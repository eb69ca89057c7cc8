namespace Mixscore.Protocols.Tests;

/// <summary>How many hostile inputs a codec is given: a million where <c>MIXSCORE_LONG</c> is set, few enough to be quick elsewhere.</summary>
internal static class Fuzz
{
    public static int Count(int usual) => string.IsNullOrEmpty(Environment.GetEnvironmentVariable("MIXSCORE_LONG")) ? usual : 1_000_000;

    /// <summary>Runs what takes hostile input, and fails when it holds on to memory afterwards.</summary>
    public static void KeepsNoMemory(Action run)
    {
        var before = GC.GetTotalMemory(forceFullCollection: true);
        run();
        Assert.InRange(GC.GetTotalMemory(forceFullCollection: true) - before, long.MinValue, 16_000_000);
    }
}
