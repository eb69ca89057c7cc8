using System.Text.RegularExpressions;

namespace Mixscore.Score;

/// <summary>Understands the words of a score, as far as they speak of order, tempo or loudness. Source: common practice.</summary>
internal static partial class SpokenWords
{
    /// <summary>The jump, target or stop that words name, or <c>null</c>.</summary>
    internal static Jump? Order(string words)
    {
        var text = Blanks().Replace(words, " ").Trim();
        if (text.Length is 0 or > 120) return null;
        var until = AlFine().IsMatch(text) ? JumpUntil.Fine : AlCoda().IsMatch(text) ? JumpUntil.Coda : JumpUntil.Unsaid;
        if (DaCapo().IsMatch(text)) return new Jump(JumpKind.DaCapo, Until: until, WordsOnly: true);
        if (DalSegno().IsMatch(text)) return new Jump(JumpKind.DalSegno, Until: until, WordsOnly: true);
        if (ToCoda().Match(text) is { Success: true } leaves) return new Jump(JumpKind.ToCoda, leaves.Groups["number"].Value, WordsOnly: true);
        if (Fine().IsMatch(text)) return new Jump(JumpKind.Fine, WordsOnly: true);
        if (Coda().Match(text) is { Success: true } coda) return new Jump(JumpKind.Coda, coda.Groups["number"].Value, WordsOnly: true);
        return Segno().IsMatch(text) ? new Jump(JumpKind.Segno, WordsOnly: true) : null;
    }

    /// <summary>The change of tempo that words ask for without saying how much, or <c>null</c>.</summary>
    internal static TempoChange? Tempo(string words)
    {
        if (words.Length is 0 or > 120) return null;
        if (Back().IsMatch(words)) return TempoChange.Back;
        if (Faster().IsMatch(words)) return TempoChange.Faster;
        return Slower().IsMatch(words) ? TempoChange.Slower : null;
    }

    /// <summary>Whether words lead back to the tempo of the beginning, and not only to the one before a change.</summary>
    internal static bool IsFirstTempo(string words) => FirstTempo().IsMatch(words);

    /// <summary>The change of loudness that words ask for, or <c>null</c>.</summary>
    internal static LoudnessChange? Loudness(string words)
    {
        if (words.Length is 0 or > 120) return null;
        if (EverSofter().IsMatch(words)) return LoudnessChange.Falls;
        if (EverLouder().IsMatch(words)) return LoudnessChange.Grows;
        if (Falls().IsMatch(words)) return LoudnessChange.Falls;
        if (Grows().IsMatch(words)) return LoudnessChange.Grows;
        if (Louder().IsMatch(words)) return LoudnessChange.Louder;
        if (Softer().IsMatch(words)) return LoudnessChange.Softer;
        return Level().IsMatch(words) ? LoudnessChange.Level : null;
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();

    [GeneratedRegex(@"(?<!\p{L})(D\.? ?C\.?|d\. ?c\.|(?i:da capo|d\. ?capo|vom anfang|from the beginning))(?!\p{L})")]
    private static partial Regex DaCapo();

    [GeneratedRegex(@"(?<!\p{L})(D\.? ?S\.?( ?S\.?)?|d\. ?s\.|(?i:d[ae]l segno|dal s\.|from the sign|vom zeichen)|(?i:d\.?|dal) ?(𝄋|§|%))(?!\p{L})")]
    private static partial Regex DalSegno();

    [GeneratedRegex(@"(?<!\p{L})(al?|alla|sin['’ ]*al|fino al|to( the)?|bis( zum)?|au|jusqu['’]au|hasta( el)?) (fine|fin|schlu(ss|ß)|ende|end)(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex AlFine();

    [GeneratedRegex(@"(?<!\p{L})(al?|alla|e poi la|poi la|poi|to( the)?|zur|à la) (doppia |double )?(coda|𝄌)(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex AlCoda();

    [GeneratedRegex(@"^\W*(to|al|alla|da|go to|zur|à la) (the )?(coda|𝄌|⊕|⨁)\W*(?<number>[1-4])?", RegexOptions.IgnoreCase)]
    private static partial Regex ToCoda();

    [GeneratedRegex(@"^\W*(il )?(fine|fin|ende|schlu(ss|ß))\W*$", RegexOptions.IgnoreCase)]
    private static partial Regex Fine();

    [GeneratedRegex(@"^\W*((the|la) )?coda\W*(?<number>[1-4])?\W*$|^𝄌$", RegexOptions.IgnoreCase)]
    private static partial Regex Coda();

    [GeneratedRegex(@"^\W*segno\W*$|^𝄋$", RegexOptions.IgnoreCase)]
    private static partial Regex Segno();

    [GeneratedRegex(@"(?<!\p{L})(a tempo|in tempo|tempo (i|1|primo)(mo)?|tempo primo|tempo ordinario|l'istesso tempo)(?![\p{L}\d])|^\W*tempo\W*$", RegexOptions.IgnoreCase)]
    private static partial Regex Back();

    [GeneratedRegex(@"(?<!\p{L})tempo (i|1|primo)(mo)?(?![\p{L}\d])", RegexOptions.IgnoreCase)]
    private static partial Regex FirstTempo();

    [GeneratedRegex(@"(?<!\p{L})(accel|string(\.|endo)|stretto|affrett|incalz)", RegexOptions.IgnoreCase)]
    private static partial Regex Faster();

    [GeneratedRegex(@"(?<!\p{L})(rit(\.|ard|en|$|(?= ))|rall|allarg|slarg|slentando|calando|morendo|smorz|mancando)", RegexOptions.IgnoreCase)]
    private static partial Regex Slower();

    [GeneratedRegex(@"(?<!\p{L})sempre (pi[uù] (f+|forte)|meno (p+|piano))(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex EverLouder();

    [GeneratedRegex(@"(?<!\p{L})sempre (pi[uù] (p+|piano)|meno (f+|forte))(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex EverSofter();

    [GeneratedRegex(@"(?<!\p{L})(cres(c|\.|$)|dal niente(?!\p{L}))", RegexOptions.IgnoreCase)]
    private static partial Regex Grows();

    [GeneratedRegex(@"(?<!\p{L})(decres|dim(\.|in|$)|morendo|smorz|calando|perdendo|mancando|al niente)", RegexOptions.IgnoreCase)]
    private static partial Regex Falls();

    [GeneratedRegex(@"(?<!\p{L})(pi[uù] (f+|forte)|meno (p+|piano))(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex Louder();

    [GeneratedRegex(@"(?<!\p{L})(meno (f+|forte)|pi[uù] (p+|piano))(?!\p{L})", RegexOptions.IgnoreCase)]
    private static partial Regex Softer();

    [GeneratedRegex(@"(?<!\p{L})((sempre|subito|sub\.|molto|poco|un poco|quasi) (p+|f+|mp|mf|piano|forte|pianissimo|fortissimo)(?!\p{L})|(p|f)+ sub)"
        + @"|^\W*(p+|f+|mp|mf|fp|sfz?|rfz?|piano|forte|pianissimo|fortissimo|mezzoforte|mezzo forte|mezzopiano|mezzo piano|niente)\W*$"
        + @"|^\W*(p+|f+|mp|mf),? (dolce|dolciss|espr|marc|cant|sub|legg|legato|stacc|ma |ben |e |con |possibile|sempre|sotto|mezza)", RegexOptions.IgnoreCase)]
    private static partial Regex Level();
}
