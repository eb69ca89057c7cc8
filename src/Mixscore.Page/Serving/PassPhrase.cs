using System.Security.Cryptography;
using System.Text;

namespace Mixscore.Page;

/// <summary>What a browser on the network must say once to be let in; after that a cookie says it.</summary>
public sealed class PassPhrase
{
    /// <summary>A phrase that a person chose has at least so many characters.</summary>
    public const int Shortest = 12;

    // Without letters and figures that are taken for one another: 31 signs, nearly 5 bits each.
    private const string Signs = "abcdefghjkmnpqrstuvwxyz23456789";
    private const int Groups = 4;
    private const int GroupLength = 4;

    /// <summary>Source: OWASP Password Storage Cheat Sheet, PBKDF2 with HMAC-SHA256; a cookie that is stolen must not tell the phrase.</summary>
    private const int Rounds = 600_000;

    private readonly byte[] _hash;

    private PassPhrase(string text)
    {
        (Text, _hash) = (text, SHA256.HashData(Encoding.UTF8.GetBytes(text)));
        Cookie = Convert.ToHexStringLower(Rfc2898DeriveBytes.Pbkdf2(text, "mixscore page"u8, Rounds, HashAlgorithmName.SHA256, 32));
    }

    /// <summary>The phrase.</summary>
    public string Text { get; }

    /// <summary>What the cookie holds: the same for the same phrase, so that a browser is known again when the program was started anew.</summary>
    internal string Cookie { get; }

    /// <summary>A new one, of 79 bits.</summary>
    public static PassPhrase New() => new(string.Join('-', Enumerable.Range(0, Groups).Select(_ => RandomNumberGenerator.GetString(Signs, GroupLength))));

    /// <summary>One that a person chose.</summary>
    /// <exception cref="ArgumentException">It is too short.</exception>
    public static PassPhrase Of(string text) => text.Trim().Length >= Shortest ? new PassPhrase(text.Trim()) : throw new ArgumentException($"a pass phrase has at least {Shortest} characters", nameof(text));

    /// <summary>Whether it is this phrase; takes as long for a near miss as for a wild guess.</summary>
    internal bool Is(string guess) => CryptographicOperations.FixedTimeEquals(SHA256.HashData(Encoding.UTF8.GetBytes(guess.Trim())), _hash);

    /// <summary>Whether a cookie is of this phrase.</summary>
    internal bool IsCookie(string? cookie) => cookie is not null && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(cookie), Encoding.UTF8.GetBytes(Cookie));
}
