using Mixscore.Protocols.Osc;

namespace Mixscore.Outside.Tests.Wire;

/// <summary>Random packets of every type of OSC 1.0, bundles with time tags among them.</summary>
internal static class RandomOsc
{
    private const string Signs = "abcxyz019-_.";
    private static readonly string[] Words = ["a", "k", "é", "→", "🎻", " ", "\"", "\n"];

    internal static OscPacket Packet(Random random) => random.Next(2) == 0 ? Message(random) : Bundle(random, 1, (uint)random.NextInt64(4_000_000_000));

    private static OscBundle Bundle(Random random, int depth, uint seconds) => new(
        new OscTimeTag(((ulong)seconds << 32) | (uint)random.NextInt64(1L << 32)),
        Many(random.Next(5), () => depth < 3 && random.Next(3) == 0 ? (OscPacket)Bundle(random, depth + 1, seconds + 1) : Message(random)));

    private static OscMessage Message(Random random) => new(
        string.Concat(Many(random.Next(1, 4), () => "/" + new string(Many(random.Next(1, 7), () => Signs[random.Next(Signs.Length)])))),
        Many(random.Next(7), () => random.Next(8) == 0 ? OscArgument.Array(Many(random.Next(4), () => Flat(random))) : Flat(random)));

    private static OscArgument Flat(Random random) => random.Next(15) switch
    {
        0 => OscArgument.Of((int)random.NextInt64(int.MinValue, 1L << 31)),
        1 => OscArgument.Of(random.NextInt64(long.MinValue, long.MaxValue)),
        2 => OscArgument.Of(BitConverter.UInt32BitsToSingle((uint)random.NextInt64(1L << 32))),
        3 => OscArgument.Of(BitConverter.Int64BitsToDouble(random.NextInt64(long.MinValue, long.MaxValue))),
        4 => OscArgument.Of(Word(random)),
        5 => OscArgument.Symbol(Word(random)),
        6 => OscArgument.Of(Bytes(random, random.Next(10)).AsSpan()),
        7 => OscArgument.Of(new OscTimeTag((ulong)random.NextInt64(long.MinValue, long.MaxValue))),
        8 => OscArgument.Character((uint)random.Next(1, 0xD800)),
        9 => OscArgument.Of(Bytes(random, 4) is [var r, var g, var b, var a] ? new OscColour(r, g, b, a) : default),
        10 => OscArgument.Of(Bytes(random, 4) is [var port, var status, var one, var two] ? new OscMidi(port, status, one, two) : default),
        11 => OscArgument.Of(true),
        12 => OscArgument.Of(false),
        13 => OscArgument.Nil,
        _ => OscArgument.Impulse,
    };

    private static string Word(Random random) => string.Concat(Many(random.Next(9), () => Words[random.Next(Words.Length)]));

    private static byte[] Bytes(Random random, int count)
    {
        var bytes = new byte[count];
        random.NextBytes(bytes);
        return bytes;
    }

    private static T[] Many<T>(int count, Func<T> make)
    {
        var many = new T[count];
        for (var i = 0; i < count; i++) many[i] = make();
        return many;
    }
}
