using System.Globalization;
using System.Xml;

namespace Mixscore.Score;

/// <summary>One element of a score file with what a reader of time needs of it, and its place in the file.</summary>
internal sealed class Element(string name, int line, int column)
{
    private const int MostDepth = 40;
    private const int MostInOne = 400_000;
    private const int MostText = 16_384;

    /// <summary>Elements that say nothing about time, loudness or pitch: left out, to save room.</summary>
    private static readonly HashSet<string> Skipped =
    [
        "accidental", "appearance", "beam", "clef", "credit", "defaults", "figured-bass", "grouping", "harmony", "identification",
        "key", "link", "listening", "midi-device", "midi-instrument", "notehead", "print", "score-instrument", "staff-details",
        "stem", "technical", "articulations", "slur", "tied", "tuplet", "time-modification", "play",
    ];

    private readonly List<(string Name, string Value)> _attributes = [];
    private readonly List<Element> _children = [];

    internal string Name => name;

    internal int Line => line;

    internal int Column => column;

    /// <summary>The text directly within, with blanks at the ends taken off.</summary>
    internal string Text { get; private set; } = "";

    internal IReadOnlyList<Element> Children => _children;

    internal string? this[string attribute]
    {
        get
        {
            foreach (var (key, value) in _attributes) if (key == attribute) return value;
            return null;
        }
    }

    internal Element? Child(string wanted)
    {
        foreach (var child in _children) if (child.Name == wanted) return child;
        return null;
    }

    internal bool Has(string wanted) => Child(wanted) is not null;

    internal string? TextOf(string wanted) => Child(wanted)?.Text;

    internal IEnumerable<Element> All(string wanted) => _children.Where(child => child.Name == wanted);

    internal int? WholeOf(string wanted) =>
        int.TryParse(TextOf(wanted), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) ? value : null;

    /// <summary>Reads the element that the reader stands on, and leaves the reader behind it.</summary>
    /// <exception cref="XmlException">It is not well-formed, too deep, or far too large.</exception>
    internal static Element Read(XmlReader xml)
    {
        var info = (IXmlLineInfo)xml;
        var root = Open(xml, info);
        if (xml.IsEmptyElement)
        {
            xml.Read();
            return root;
        }
        var open = new Stack<Element>();
        open.Push(root);
        var count = 0;
        xml.Read();
        while (open.Count > 0)
        {
            switch (xml.NodeType)
            {
                case XmlNodeType.Element when Skipped.Contains(xml.LocalName):
                    xml.Skip();
                    continue;
                case XmlNodeType.Element:
                    if (++count > MostInOne || open.Count > MostDepth)
                        throw new XmlException($"<{root.Name}> holds more than a score can need", null, info.LineNumber, info.LinePosition);
                    var child = Open(xml, info);
                    open.Peek()._children.Add(child);
                    if (!xml.IsEmptyElement) open.Push(child);
                    break;
                case XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace:
                    var holder = open.Peek();
                    if (holder.Text.Length < MostText) holder.Text += xml.Value.Length > MostText ? xml.Value[..MostText] : xml.Value;
                    break;
                case XmlNodeType.EndElement:
                    var closed = open.Pop();
                    closed.Text = closed.Text.Trim();
                    break;
                case XmlNodeType.None:
                    throw new XmlException($"the file ends within <{open.Peek().Name}>", null, info.LineNumber, info.LinePosition);
            }
            xml.Read();
        }
        return root;
    }

    private static Element Open(XmlReader xml, IXmlLineInfo info)
    {
        var element = new Element(xml.LocalName, info.LineNumber, info.LinePosition);
        while (xml.MoveToNextAttribute()) element._attributes.Add((xml.LocalName, xml.Value));
        xml.MoveToElement();
        return element;
    }
}
