namespace Mixscore.Protocols.Osc;

/// <summary>The kind of an argument; the number is the ASCII type tag (OSC 1.0, "OSC Type Tag String").</summary>
public enum OscTag
{
    /// <summary>No tag: there is no argument.</summary>
    None = 0,

    /// <summary><c>i</c>: 32-bit signed integer.</summary>
    Int32 = 'i',

    /// <summary><c>f</c>: 32-bit IEEE 754 number.</summary>
    Float32 = 'f',

    /// <summary><c>s</c>: text.</summary>
    String = 's',

    /// <summary><c>b</c>: int32 count, then that many bytes.</summary>
    Blob = 'b',

    /// <summary><c>h</c>: 64-bit signed integer.</summary>
    Int64 = 'h',

    /// <summary><c>t</c>: time tag.</summary>
    TimeTag = 't',

    /// <summary><c>d</c>: 64-bit IEEE 754 number.</summary>
    Float64 = 'd',

    /// <summary><c>S</c>: text meant as a symbol.</summary>
    Symbol = 'S',

    /// <summary><c>c</c>: a character in 32 bits.</summary>
    Character = 'c',

    /// <summary><c>r</c>: red, green, blue, alpha, a byte each.</summary>
    Colour = 'r',

    /// <summary><c>m</c>: port, status and two data bytes.</summary>
    Midi = 'm',

    /// <summary><c>T</c>: true, no bytes.</summary>
    True = 'T',

    /// <summary><c>F</c>: false, no bytes.</summary>
    False = 'F',

    /// <summary><c>N</c>: nil, no bytes.</summary>
    Nil = 'N',

    /// <summary><c>I</c>: impulse (OSC 1.1; "infinitum" in 1.0), no bytes.</summary>
    Impulse = 'I',

    /// <summary><c>[</c>: an array, closed by <c>]</c>.</summary>
    Array = '[',
}
