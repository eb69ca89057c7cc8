using System.Globalization;
using System.Text;
using Mixscore.Protocols.Osc;

namespace Mixscore.Desk;

/// <summary>The moves as OSC: a stream of bundles, and the same messages as text.</summary>
public static class OscAutomation
{
    /// <summary>
    /// The stream (OSC 1.0, framing for stream protocols): an int32 length, then a bundle, for each time at which
    /// something is sent. The bundle's time tag is 32.32 fixed-point seconds from the start of the piece.
    /// </summary>
    /// <param name="moves">Made for a desk that speaks OSC.</param>
    /// <exception cref="ArgumentException">The moves are for another protocol.</exception>
    public static byte[] Stream(DeskMoves moves)
    {
        using var stream = new MemoryStream();
        foreach (var (seconds, messages) in Bundles(moves))
            stream.Write(OscLengthFraming.Frame(OscCodec.Encode(new OscBundle(OscTimeTag.FromSeconds(seconds), [.. messages]))));
        return stream.ToArray();
    }

    /// <summary>A line a message, with a tab between: seconds with six decimals, address, types with their comma, arguments.</summary>
    /// <param name="moves">Made for a desk that speaks OSC.</param>
    /// <exception cref="ArgumentException">The moves are for another protocol.</exception>
    public static string Text(DeskMoves moves)
    {
        var text = new StringBuilder();
        foreach (var (seconds, messages) in Bundles(moves))
            foreach (var message in messages)
                text.Append(CultureInfo.InvariantCulture, $"{seconds:0.000000}\t{OscText.Format(message, '\t')}\n");
        return text.ToString();
    }

    private static IEnumerable<(double Seconds, IReadOnlyList<OscMessage> Messages)> Bundles(DeskMoves moves)
    {
        var control = moves.Map.Fader.Control as OscControl ?? throw new ArgumentException("these moves are not for a desk that speaks OSC", nameof(moves));
        return moves.Moves.GroupBy(move => move.At.Value).Select(group =>
            (group.Key, (IReadOnlyList<OscMessage>)[.. group.Select(move => control.Message(move.Source.Strip, move.Value))]));
    }
}
