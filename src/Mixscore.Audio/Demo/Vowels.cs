namespace Mixscore.Audio;

/// <summary>What a syllable sounds like, from its letters, roughly as in English.</summary>
internal static class Vowels
{
    // Formants in Hz of a man's vowels, rounded: after Peterson and Barney, Control methods used in a study of the
    // vowels, 1952; from memory, unverified. The fourth is common practice.
    private static readonly double[] Ah = [730, 1090, 2440, 3500], Eh = [530, 1840, 2480, 3500], Ee = [270, 2290, 3010, 3600],
        Oh = [570, 840, 2410, 3400], Oo = [300, 870, 2240, 3400];

    private static readonly string[] Hisses = ["s", "f", "h", "t", "k", "p", "ch", "c"];

    internal static ReadOnlySpan<double> Of(string syllable)
    {
        foreach (var letter in syllable)
            switch (char.ToLowerInvariant(letter))
            {
                case 'a': return Ah;
                case 'e': return Eh;
                case 'i' or 'y': return Ee;
                case 'o': return Oh;
                case 'u' or 'w': return Oo;
            }
        return Ah;
    }

    internal static bool BeginsWithHiss(string syllable) =>
        Array.Exists(Hisses, hiss => syllable.TrimStart('“', '"', '(').StartsWith(hiss, StringComparison.OrdinalIgnoreCase));
}
