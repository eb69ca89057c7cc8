using Mixscore.Score;
using Spectre.Console;

namespace Mixscore.Screen;

/// <summary>Where a verb writes: tables and reports to one stream, faults to the other, and whether a person is looking.</summary>
internal sealed class Terminal
{
    private Terminal(TextReader input, TextWriter output, TextWriter error, bool isInteractive, bool hasColour)
    {
        (In, Plain, Error, IsInteractive, HasColour) = (input, output, error, isInteractive, hasColour);
        Out = Make(output, isInteractive, hasColour);
        Status = Make(error, isInteractive, hasColour);
    }

    /// <summary>Tables and words for a person.</summary>
    internal IAnsiConsole Out { get; }

    /// <summary>Progress: on the stream of faults, so that what a verb reports can be piped.</summary>
    internal IAnsiConsole Status { get; }

    /// <summary>The same stream as <see cref="Out"/>, untouched: JSON.</summary>
    internal TextWriter Plain { get; }

    /// <summary>What is typed or piped in.</summary>
    internal TextReader In { get; }

    /// <summary>Faults.</summary>
    internal TextWriter Error { get; }

    /// <summary>Whether a person is looking at progress.</summary>
    internal bool IsInteractive { get; }

    /// <summary>Whether colours may be used: a terminal, and no NO_COLOR.</summary>
    internal bool HasColour { get; }

    internal static Terminal OfProcess()
    {
        var isTerminal = !Console.IsOutputRedirected && !Console.IsErrorRedirected;
        return new Terminal(Console.In, Console.Out, Console.Error, isTerminal, isTerminal && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR")));
    }

    /// <summary>A terminal that no person sits at, for tests and for what is written to files.</summary>
    internal static Terminal Of(TextWriter output, TextWriter error, TextReader? input = null) => new(input ?? TextReader.Null, output, error, isInteractive: false, hasColour: false);

    /// <summary>A line of words, never folded.</summary>
    internal void Say(string line = "") => Plain.WriteLine(line);

    /// <summary>One line on the stream of faults, and the exit code to end with.</summary>
    internal int Fail(int code, string found, string remedy)
    {
        Error.WriteLine($"{found.TrimEnd('.')}; {remedy}.");
        return code;
    }

    /// <summary>All faults on the stream of faults, and the exit code to end with.</summary>
    internal int Fail(int code, IEnumerable<Fault> faults)
    {
        foreach (var fault in faults) Error.WriteLine(fault.ToString());
        return code;
    }

    private static IAnsiConsole Make(TextWriter writer, bool isInteractive, bool hasColour)
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = isInteractive ? AnsiSupport.Detect : AnsiSupport.No,
            ColorSystem = hasColour ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
            Interactive = isInteractive ? InteractionSupport.Detect : InteractionSupport.No,
            Out = new AnsiConsoleOutput(writer),
        });
        // A table must not be folded at 80 columns only because nobody is looking.
        if (!isInteractive) console.Profile.Width = 160;
        return console;
    }
}
