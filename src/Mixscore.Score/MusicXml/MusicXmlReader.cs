using System.Xml;

namespace Mixscore.Score;

/// <summary>
/// Reads MusicXML, every version to 4.0, written by parts or by bars. The file streams through: only one bar of one part
/// is held at a time.
/// </summary>
internal static class MusicXmlReader
{
    /// <summary>The most elements between the parts that are passed over; scores have a dozen.</summary>
    private const int MostPassedOver = 10_000;

    internal static WrittenScore Read(Stream stream, string file)
    {
        var draft = new ScoreDraft(file);
        var head = new ScoreHead();
        var parts = new Dictionary<string, PartReader>();
        var order = new List<PartReader>();
        try
        {
            using var xml = XmlInput.Open(stream);
            xml.MoveToContent();
            var root = xml.LocalName;
            if (root is not ("score-partwise" or "score-timewise")) throw WrongRoot(root, file, xml);
            ReadRoot(xml, root, draft, head, PartOf);
        }
        catch (XmlException broken)
        {
            throw NotWellFormed(broken, file);
        }
        foreach (var part in order) part.Finish();
        draft.Notices.ThrowIfErrors();
        return ScoreAssembly.Assemble(draft, head, order, file);

        PartReader PartOf(string id)
        {
            if (parts.TryGetValue(id, out var part)) return part;
            parts[id] = part = new PartReader(draft, order.Count, id, head.NameOf(id));
            order.Add(part);
            return part;
        }
    }

    private static void ReadRoot(XmlReader xml, string root, ScoreDraft draft, ScoreHead head, Func<string, PartReader> partOf)
    {
        if (xml.IsEmptyElement) return;
        xml.Read();
        var bar = 0;
        var passedOver = 0;
        while (xml.MoveToContent() == XmlNodeType.Element || xml.NodeType is XmlNodeType.Text or XmlNodeType.CDATA)
        {
            if (xml.NodeType != XmlNodeType.Element) xml.Skip();
            else if (xml.LocalName == "part" && root == "score-partwise") ReadPart(xml, partOf(xml.GetAttribute("id") ?? ""));
            else if (xml.LocalName == "measure" && root == "score-timewise") ReadBar(xml, ++bar, draft, partOf);
            else if (xml.LocalName is "work" or "movement-title" or "movement-number" or "part-list") head.Take(Element.Read(xml));
            else if (++passedOver <= MostPassedOver) xml.Skip();
            else throw new XmlException($"<{root}> holds more than a score can need", null, ((IXmlLineInfo)xml).LineNumber, ((IXmlLineInfo)xml).LinePosition);
        }
        if (xml.NodeType != XmlNodeType.EndElement) throw new XmlException("the file ends too early");
    }

    /// <summary>One part with its bars.</summary>
    private static void ReadPart(XmlReader xml, PartReader part)
    {
        var bar = 0;
        foreach (var measure in Within(xml, "measure")) part.Read(++bar, measure);
    }

    /// <summary>One bar with its parts.</summary>
    private static void ReadBar(XmlReader xml, int bar, ScoreDraft draft, Func<string, PartReader> partOf)
    {
        var info = (IXmlLineInfo)xml;
        draft.BarAt(bar, xml.GetAttribute("number"), info.LineNumber);
        foreach (var part in Within(xml, "part")) partOf(part["id"] ?? "").Read(bar, part);
    }

    /// <summary>The children of a name within the element that the reader stands on; leaves the reader behind it.</summary>
    private static IEnumerable<Element> Within(XmlReader xml, string wanted)
    {
        if (!xml.IsEmptyElement)
        {
            xml.Read();
            while (xml.MoveToContent() is not (XmlNodeType.EndElement or XmlNodeType.None))
                if (xml.NodeType == XmlNodeType.Element && xml.LocalName == wanted) yield return Element.Read(xml);
                else xml.Skip();
        }
        xml.Read();
    }

    private static InputException WrongRoot(string root, string file, XmlReader xml)
    {
        var line = ((IXmlLineInfo)xml).LineNumber;
        return root == "opus"
            ? new InputException(new Fault("MX004", new Place(file, line), "an opus only lists other scores", "give one of the scores that it lists"))
            : new InputException(new Fault("MX004", new Place(file, line), $"<{root}> is not the root of a MusicXML score", "export the score as MusicXML (score-partwise or score-timewise)"));
    }

    private static InputException NotWellFormed(XmlException broken, string file) =>
        new(new Fault("MX003", new Place(file, broken.LineNumber, broken.LinePosition), $"the XML is broken: {broken.Message.TrimEnd('.')}", "export the score again; the file may be cut short"));
}
