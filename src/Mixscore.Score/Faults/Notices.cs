using System.Globalization;

namespace Mixscore.Score;

/// <summary>
/// What a reader has to say about a score: errors as they come, and warnings of one kind gathered into one that names
/// the first bars and counts the rest.
/// </summary>
internal sealed class Notices(string file)
{
    private const int MostErrors = 20;
    private const int BarsNamed = 6;

    private readonly List<Fault> _errors = [];
    private readonly List<Gathered> _warnings = [];
    private readonly Dictionary<(string Code, string What), Gathered> _byKind = [];

    internal bool HasErrors => _errors.Count > 0;

    internal IReadOnlyList<Fault> Errors => _errors;

    /// <summary>The warnings in the order in which each kind was first met.</summary>
    internal IReadOnlyList<Fault> Warnings => [.. _warnings.Select(gathered => gathered.ToFault(file))];

    /// <summary>Something that makes the score unusable.</summary>
    /// <exception cref="InputException">There are so many that reading on tells nothing new.</exception>
    internal void Error(string code, int line, int column, string found, string remedy)
    {
        _errors.Add(new Fault(code, new Place(file, line, column), found, remedy));
        if (_errors.Count >= MostErrors) throw new InputException(_errors);
    }

    /// <summary>Something that was not taken or needs a look.</summary>
    /// <param name="code">Stable.</param>
    /// <param name="line">The line, or 0.</param>
    /// <param name="bar">The bar as printed; empty where it stands in none.</param>
    /// <param name="what">What was found; equal texts are gathered.</param>
    /// <param name="remedy">What to do.</param>
    internal void Warn(string code, int line, string bar, string what, string remedy = "")
    {
        if (!_byKind.TryGetValue((code, what), out var gathered))
        {
            _byKind[(code, what)] = gathered = new Gathered(code, line, what, remedy);
            _warnings.Add(gathered);
        }
        gathered.Add(bar);
    }

    internal void ThrowIfErrors()
    {
        if (HasErrors) throw new InputException(_errors);
    }

    private sealed class Gathered(string code, int line, string what, string remedy)
    {
        private readonly List<string> _bars = [];
        private int _count;

        internal void Add(string bar)
        {
            _count++;
            if (bar.Length > 0 && _bars.Count < BarsNamed && !_bars.Contains(bar)) _bars.Add(bar);
        }

        internal Fault ToFault(string file)
        {
            var bars = _bars.Count == 0 ? "" : $"bar{(_bars.Count > 1 ? "s" : "")} {string.Join(", ", _bars)}{(_count > _bars.Count ? " …" : "")}: ";
            var times = _count > 1 ? string.Create(CultureInfo.InvariantCulture, $" ({_count} times)") : "";
            return new Fault(code, new Place(file, line), bars + what + times, remedy, Severity.Warning);
        }
    }
}
