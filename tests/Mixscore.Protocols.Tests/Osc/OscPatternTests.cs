using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed class OscPatternTests
{
    // OSC 1.0, "OSC Message Dispatching and Pattern Matching"; OSC 1.1, section 3.4 for //. Cases are ours.
    [Theory]
    [InlineData("/strip/1/fader", "/strip/1/fader", true)]
    [InlineData("/strip/1/fader", "/strip/1/fade", false)]
    [InlineData("/strip/1", "/strip/1/fader", false)]
    [InlineData("/strip/?/fader", "/strip/7/fader", true)]
    [InlineData("/strip/?/fader", "/strip/12/fader", false)]
    [InlineData("/a?b", "/a/b", false)]
    [InlineData("/strip/*", "/strip/12", true)]
    [InlineData("/strip/*", "/strip/12/fader", false)]
    [InlineData("/*/*/fader", "/strip/1/fader", true)]
    [InlineData("/s*p", "/sp", true)]
    [InlineData("/*s*t*", "/first", true)]
    [InlineData("/[abc]", "/b", true)]
    [InlineData("/[abc]", "/d", false)]
    [InlineData("/[a-c]x", "/bx", true)]
    [InlineData("/[a-c]x", "/dx", false)]
    [InlineData("/[c-a]x", "/bx", true)]
    [InlineData("/[ab-]", "/-", true)]
    [InlineData("/[-ab]", "/-", true)]
    [InlineData("/[!abc]", "/d", true)]
    [InlineData("/[!abc]", "/a", false)]
    [InlineData("/[!a-c]", "/c", false)]
    [InlineData("/[a!]", "/!", true)]
    [InlineData("/a[!x]b", "/a/b", false)]
    [InlineData("/{foo,bar}", "/foo", true)]
    [InlineData("/{foo,bar}", "/bar", true)]
    [InlineData("/{foo,bar}", "/foobar", false)]
    [InlineData("/{a,ab}c", "/abc", true)]
    [InlineData("/x{,y}z", "/xz", true)]
    [InlineData("//spherical", "/position/spherical", true)]
    [InlineData("//spherical", "/spherical", true)]
    [InlineData("//spherical", "/a/b/spherical", true)]
    [InlineData("//spherical", "/position/aspherical", false)]
    [InlineData("/position//x", "/position/a/b/x", true)]
    [InlineData("/position//x", "/position/x", true)]
    [InlineData("/position//x", "/other/a/x", false)]
    [InlineData("//a//b", "/1/a/2/b", true)]
    [InlineData("/strip/1/", "/strip/1", false)]
    public void A_pattern_matches_whole_addresses(string pattern, string address, bool expected)
    {
        Assert.Equal(expected, OscPattern.Matches(pattern, address));
        Assert.Equal(expected, OscPattern.Matches(OscGen.Ascii(pattern), OscGen.Ascii(address)));
    }

    // OSC 1.0 specification, examples of dispatch: three messages call one, two and three methods.
    [Theory]
    [InlineData("/first/this/one", new[] { "/first/this/one" })]
    [InlineData("/second/[1-2]", new[] { "/second/1", "/second/2" })]
    [InlineData("/third/*", new[] { "/third/a", "/third/b", "/third/c" })]
    public void Dispatch_is_the_example_of_the_specification(string pattern, string[] expected)
    {
        string[] methods = ["/first/this/one", "/second/1", "/second/2", "/third/a", "/third/b", "/third/c"];
        Assert.Equal(expected, methods.Where(method => OscPattern.Matches(pattern, method)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("a")]
    [InlineData("/[")]
    [InlineData("/[]")]
    [InlineData("/[!]")]
    [InlineData("/a]")]
    [InlineData("/{a")]
    [InlineData("/a}")]
    [InlineData("/{a/b}")]
    [InlineData("/[a/b]")]
    [InlineData("/{a,[b]}")]
    [InlineData("/a,b")]
    [InlineData("/a b")]
    [InlineData("/#a")]
    [InlineData("/é")]
    public void A_broken_pattern_is_invalid_and_matches_nothing(string pattern)
    {
        Assert.False(OscPattern.IsValid(pattern));
        Assert.False(OscPattern.Matches(pattern, pattern));
    }

    [Theory]
    [InlineData("/a", true)]
    [InlineData("/a/b.c-d_e~!", true)]
    [InlineData("/", false)]
    [InlineData("a", false)]
    [InlineData("/a//b", false)]
    [InlineData("/a/", false)]
    [InlineData("/a*", false)]
    [InlineData("/a b", false)]
    [InlineData("/{a}", false)]
    [InlineData("/ü", false)]
    public void An_address_has_a_name_between_slashes(string address, bool expected) =>
        Assert.Equal(expected, OscAddress.IsValid(address));

    [Theory]
    [InlineData("/strip/1", false)]
    [InlineData("/strip/?", true)]
    [InlineData("/s*", true)]
    [InlineData("/[ab]", true)]
    [InlineData("/{a}", true)]
    [InlineData("/a//b", true)]
    public void A_pattern_is_told_from_an_address(string text, bool expected)
    {
        Assert.Equal(expected, OscPattern.IsPattern(text));
        Assert.Equal(expected, OscPattern.IsPattern(OscGen.Ascii(text)));
    }

    // Brute force: the plain recursive reading of the rules, on short patterns over two letters.
    [Fact]
    public void Matching_agrees_with_the_plain_recursive_reading()
    {
        var element = Gen.OneOf("a", "b", "?", "*", "[a]", "[!a]", "{a,bb}", "{,ab}", "/", "//");
        var pattern = element.Array[0, 6].Select(e => "/" + string.Concat(e));
        var address = Gen.Char["ab/"].Array[0, 7].Select(c => "/" + new string(c));
        Gen.Select(pattern, address).Sample((p, a) => OscPattern.Matches(p, a) == Plainly(p, a), iter: 20_000);
    }

    // A pattern made to take exponential time where one goes back: here the work is length times length.
    [Fact]
    public void A_hostile_pattern_takes_no_longer_than_its_length()
    {
        var pattern = "/" + string.Concat(Enumerable.Repeat("*a{a,aa}", 60)) + "b";
        Assert.False(OscPattern.Matches(pattern, "/" + new string('a', 800)));
    }

    private static bool Plainly(ReadOnlySpan<char> pattern, ReadOnlySpan<char> address)
    {
        if (pattern.IsEmpty) return address.IsEmpty;
        if (pattern.StartsWith("//"))
        {
            if (address.IsEmpty || address[0] != '/') return false;
            for (var i = 0; i < address.Length; i++)
                if (address[i] == '/' && Plainly(pattern[2..], address[(i + 1)..])) return true;
            return false;
        }
        switch (pattern[0])
        {
            case '*':
                for (var i = 0; i <= address.Length; i++)
                {
                    if (Plainly(pattern[1..], address[i..])) return true;
                    if (i < address.Length && address[i] == '/') return false;
                }
                return false;
            case '{':
                var close = pattern.IndexOf('}');
                foreach (var word in pattern[1..close].ToString().Split(','))
                    if (address.StartsWith(word) && Plainly(pattern[(close + 1)..], address[word.Length..])) return true;
                return false;
            case '[':
                var end = pattern.IndexOf(']');
                var isA = !address.IsEmpty && address[0] == 'a';
                return !address.IsEmpty && address[0] != '/' && isA == (pattern[1] == 'a')
                    && Plainly(pattern[(end + 1)..], address[1..]);
            default:
                return !address.IsEmpty && (pattern[0] == '?' ? address[0] != '/' : address[0] == pattern[0])
                    && Plainly(pattern[1..], address[1..]);
        }
    }
}
