using System.Text;

namespace Mixscore.Score.Tests;

/// <summary>Spoils text and bytes as transport, other programs and ill will do; the same for the same generator.</summary>
internal static class Mutation
{
    private static readonly string[] Numbers = ["0", "-1", "1", "2", "7", "255", "65536", "2147483647", "2147483648", "99999999999999999999", "0.5", "1e9", "NaN", "-0", "", "1/3", "٣"];

    private static readonly string[] Pieces =
    [
        "<", ">", "&", "&lt;", "&#0;", "\"", "'", "/>", "</measure>", "<measure number=\"1\">", "<note>", "</note>", "<chord/>", "<grace/>", "<![CDATA[x]]>", "<!-- -->", "\0", "\uFFFE",
        "<repeat direction=\"backward\"/>", "<repeat direction=\"forward\"/>", "<ending number=\"1\" type=\"start\"/>", "<backup><duration>1</duration></backup>", "<sound dacapo=\"yes\"/>", "<sound tocoda=\"c\"/>",
        "<divisions>0</divisions>", "<divisions>7</divisions>", "<time><beats>5</beats><beat-type>8</beat-type></time>", "yes", "no", "start", "stop",
    ];

    /// <summary>A text with up to four spoilt places: numbers changed, elements and stretches dropped, doubled or moved, signs put in.</summary>
    internal static string Of(string text, Random random)
    {
        var spoilt = new StringBuilder(text);
        for (var n = random.Next(1, 5); n > 0 && spoilt.Length > 0; n--)
        {
            var at = random.Next(spoilt.Length);
            switch (random.Next(6))
            {
                case 0:
                    ChangeNumber(spoilt, at, random);
                    break;
                case 1:
                    spoilt.Remove(at, Math.Min(random.Next(1, 60), spoilt.Length - at));
                    break;
                case 2:
                    spoilt.Insert(at, Pieces[random.Next(Pieces.Length)]);
                    break;
                case 3:
                    Move(spoilt, at, random, isCopy: true);
                    break;
                case 4:
                    Move(spoilt, at, random, isCopy: false);
                    break;
                default:
                    if (random.Next(10) == 0) spoilt.Length = at;
                    else spoilt[at] = (char)random.Next(1, 256);
                    break;
            }
        }
        return spoilt.ToString();
    }

    /// <summary>Bytes with up to six spoilt places.</summary>
    internal static byte[] Of(byte[] bytes, Random random)
    {
        var spoilt = new List<byte>(bytes);
        for (var n = random.Next(1, 7); n > 0 && spoilt.Count > 0; n--)
        {
            var at = random.Next(spoilt.Count);
            switch (random.Next(6))
            {
                case 0:
                    spoilt[at] = (byte)random.Next(256);
                    break;
                case 1:
                    spoilt[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 2:
                    spoilt.RemoveRange(at, Math.Min(random.Next(1, 8), spoilt.Count - at));
                    break;
                case 3:
                    spoilt.Insert(at, (byte)random.Next(256));
                    break;
                case 4:
                    spoilt.InsertRange(at, spoilt.GetRange(at, Math.Min(random.Next(1, 24), spoilt.Count - at)));
                    break;
                default:
                    if (random.Next(8) == 0) spoilt.RemoveRange(at, spoilt.Count - at);
                    else spoilt[at] = random.Next(2) == 0 ? (byte)0xFF : (byte)0x80;
                    break;
            }
        }
        return [.. spoilt];
    }

    /// <summary>Changes the run of digits nearest behind a place.</summary>
    private static void ChangeNumber(StringBuilder text, int at, Random random)
    {
        var from = at;
        while (from < text.Length && !char.IsAsciiDigit(text[from])) from++;
        var to = from;
        while (to < text.Length && char.IsAsciiDigit(text[to])) to++;
        text.Remove(from, to - from).Insert(from, Numbers[random.Next(Numbers.Length)]);
    }

    /// <summary>Takes a stretch from one tag to another, and puts it before a third.</summary>
    private static void Move(StringBuilder text, int at, Random random, bool isCopy)
    {
        var whole = text.ToString();
        var from = whole.IndexOf('<', at);
        if (from < 0) return;
        var to = from;
        for (var tags = random.Next(1, 8); tags > 0 && to >= 0; tags--) to = whole.IndexOf('<', to + 1);
        if (to < 0) return;
        if (!isCopy) text.Remove(from, to - from);
        var target = text.ToString().IndexOf('<', random.Next(text.Length));
        text.Insert(Math.Max(0, target), whole[from..to]);
    }
}
