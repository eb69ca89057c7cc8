using Mixscore.Score;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;
using TextMark = YamlDotNet.Core.Mark;

namespace Mixscore.Planning;

/// <summary>
/// Reads YAML into nodes that know their places. Plain YAML only: what would let one line change the meaning of another
/// (aliases, tags, merge keys) is refused, since plans are edited line by line.
/// </summary>
internal sealed class YamlTree
{
    /// <summary>The longest text that is read, in characters; a long opera's plan is a hundredth of it.</summary>
    internal const int LongestText = 4_000_000;

    private const int DeepestNesting = 12;
    private const int MostNodes = 400_000;

    private readonly string _file;
    private readonly FaultList _faults;
    private readonly Parser _parser;
    private readonly int _skipped;
    private int _nodes;

    private YamlTree(string text, int skipped, string file, FaultList faults)
    {
        (_file, _faults, _skipped) = (file, faults, skipped);
        _parser = new Parser(new StringReader(text));
    }

    /// <summary>Reads a text of one document.</summary>
    /// <returns>The root, or <c>null</c> where the text is empty or is not YAML that can be taken; then there is a fault.</returns>
    internal static YamlNode? Read(string text, string file, FaultList faults) =>
        Read(text, file, faults, many: false) is [var root, ..] ? root : null;

    /// <summary>Reads a text of any number of documents.</summary>
    /// <returns>The root of each; none where the text is empty or is not YAML that can be taken, and then there is a fault.</returns>
    internal static IReadOnlyList<YamlNode> ReadAll(string text, string file, FaultList faults) => Read(text, file, faults, many: true);

    private static List<YamlNode> Read(string text, string file, FaultList faults, bool many)
    {
        if (text.Length > LongestText)
        {
            faults.Add(PlanFault.TooMuch, new Place(file), $"the file has {text.Length} characters", $"a file has at most {LongestText}");
            return [];
        }
        // The parser takes a byte order mark for a letter of the first key.
        var skipped = text.StartsWith('\uFEFF') ? 1 : 0;
        var tree = new YamlTree(text[skipped..], skipped, file, faults);
        try
        {
            return tree.Documents(many);
        }
        catch (YamlException fault)
        {
            if (fault.Message.Contains("tab", StringComparison.OrdinalIgnoreCase) && TabThatIndents(text) is { } tab)
                faults.Add(PlanFault.NotYaml, new Place(file, tab.Line, tab.Column), "not YAML: a tab indents this line",
                    "put blanks in its place; what follows was not read");
            else faults.Add(PlanFault.NotYaml, tree.At(fault.Start), Said(fault.Message),
                "set it right and run again; what follows was not read");
        }
        catch (ArgumentException)
        {
            // The parser refuses a tag that is no URI with an exception of the platform's.
            faults.Add(PlanFault.NotYaml, tree.At(tree._parser.Current?.End ?? TextMark.Empty), "the tag (!) that follows here is not one", "take it out: a plan needs none");
        }
        catch (InvalidOperationException)
        {
            // The parser's state machine gives no message for some unclosed brackets; the last event says where.
            faults.Add(PlanFault.NotYaml, tree.At(tree._parser.Current?.End ?? TextMark.Empty),
                "a bracket, brace or quote that opens here is not closed",
                "close it; what follows was not read");
        }
        catch (TooMuchException limit)
        {
            faults.Add(PlanFault.TooMuch, limit.Place, limit.Message, "four levels and some thousand lines are enough");
        }
        return [];
    }

    /// <summary>The parser says where the value before the tab begins; a person wants the tab.</summary>
    private static (int Line, int Column)? TabThatIndents(string text)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n');
        for (var i = 0; i < lines.Length; i++)
        {
            var indent = lines[i].Length - lines[i].TrimStart().Length;
            if (indent < lines[i].Length && lines[i].IndexOf('\t', 0, indent) is >= 0 and var at) return (i + 1, at + 1);
        }
        return null;
    }

    private List<YamlNode> Documents(bool many)
    {
        var roots = new List<YamlNode>();
        Take<StreamStart>();
        if (_parser.Current is StreamEnd)
            _faults.Add(PlanFault.NotYaml, new Place(_file, 1, 1), "the file is empty", "begin with a title");
        while (_parser.Current is DocumentStart && (many || roots.Count == 0))
        {
            Take<DocumentStart>();
            roots.Add(Node(0));
            Take<DocumentEnd>();
        }
        if (_parser.Current is DocumentStart more)
            _faults.Add(PlanFault.NotTaken, At(more.Start), "a second document begins here", "keep one plan to a file");
        return roots;
    }

    private YamlNode Node(int depth)
    {
        var current = _parser.Current!;
        if (depth > DeepestNesting) throw new TooMuchException(At(current.Start), $"nested more than {DeepestNesting} deep");
        if (++_nodes > MostNodes) throw new TooMuchException(At(current.Start), $"more than {MostNodes} values");
        if (current is NodeEvent { Tag.IsEmpty: false } tagged)
            _faults.Add(PlanFault.NotTaken, At(tagged.Start), $"the tag {tagged.Tag.Value} is not taken", "leave it out");
        switch (current)
        {
            case Scalar scalar:
                _parser.MoveNext();
                return new YamlText(At(scalar.Start), Index(scalar.Start), Index(scalar.End), scalar.Value,
                    scalar.Style == ScalarStyle.Plain);
            case AnchorAlias alias:
                _parser.MoveNext();
                _faults.Add(PlanFault.NotTaken, At(alias.Start), $"the alias *{alias.Value} is not taken",
                    "write the value out; plans are edited line by line");
                return new YamlText(At(alias.Start), Index(alias.Start), Index(alias.End), "", false);
            case SequenceStart sequence:
                return List(sequence, depth);
            case MappingStart mapping:
                return Map(mapping, depth);
            default:
                throw new YamlException(current.Start, current.End, "a value is missing");
        }
    }

    private YamlList List(SequenceStart start, int depth)
    {
        _parser.MoveNext();
        var items = new List<YamlNode>();
        while (_parser.Current is not SequenceEnd) items.Add(Node(depth + 1));
        var end = Take<SequenceEnd>();
        return new YamlList(At(start.Start), Index(start.Start), Index(end.End) + (start.Style == SequenceStyle.Flow ? 1 : 0), items);
    }

    private YamlMap Map(MappingStart start, int depth)
    {
        _parser.MoveNext();
        var pairs = new List<YamlPair>();
        var seen = new Dictionary<string, Place>(StringComparer.Ordinal);
        while (_parser.Current is not MappingEnd)
        {
            var key = Node(depth + 1);
            var value = Node(depth + 1);
            if (key is not YamlText name)
            {
                _faults.Add(PlanFault.WrongKind, key.Place, "a key is a list or a mapping", "write a word or a position before the colon");
            }
            else if (name is { IsPlain: true, Value: "<<" })
            {
                _faults.Add(PlanFault.NotTaken, name.Place, "the merge key << is not taken", "write the keys out");
            }
            else if (!seen.TryAdd(name.Value, name.Place))
            {
                _faults.Add(PlanFault.TwiceTheKey, name.Place, $"\"{name.Value}\" stands here and on line {seen[name.Value].Line}",
                    "keep one of the two");
            }
            else
            {
                pairs.Add(new YamlPair(name, value));
            }
        }
        var end = Take<MappingEnd>();
        var isFlow = start.Style == MappingStyle.Flow;
        // The parser ends a mapping in braces before its closing brace.
        return new YamlMap(At(start.Start), Index(start.Start), Index(end.End) + (isFlow ? 1 : 0), pairs, isFlow);
    }

    private T Take<T>() where T : ParsingEvent
    {
        if (_parser.Current is null) _parser.MoveNext();
        if (_parser.Current is not T taken)
            throw new YamlException(_parser.Current?.Start ?? TextMark.Empty, _parser.Current?.End ?? TextMark.Empty,
                "the text ends too early");
        _parser.MoveNext();
        return taken;
    }

    private Place At(TextMark mark) => new(_file, Math.Max(1, (int)mark.Line), Math.Max(1, (int)mark.Column));

    private int Index(TextMark mark) => (int)mark.Index + _skipped;

    /// <summary>The parser's words, and ours where its words would send a musician astray.</summary>
    private static string Said(string message) => message switch
    {
        _ when message.Contains("invalid mapping", StringComparison.Ordinal) =>
            "not YAML: a value is followed by a line that is indented more, or holds a second \": \"",
        _ when message.Contains("cannot start any token", StringComparison.Ordinal) =>
            "not YAML: a value cannot begin with this character unless it is quoted",
        _ => "not YAML: " + message.Trim().TrimEnd('.'),
    };

    private sealed class TooMuchException(Place place, string message) : Exception(message)
    {
        internal Place Place => place;
    }
}
