using CsCheck;

namespace Mixscore.Page.Tests;

/// <summary>Many eyes, one hand.</summary>
public sealed class HandControlTests
{
    private readonly HandTime _time = new();
    private readonly HandControl _hand;

    public HandControlTests() => _hand = new HandControl(_time);

    [Fact]
    public void The_first_has_it_and_the_second_asks_and_is_given_it_or_not()
    {
        var (first, second) = (_hand.Join("first", ""), _hand.Join("second", "10.0.0.5"));
        Assert.True(_hand.Has(first));
        Assert.Equal("page 2 at 10.0.0.5", second.Name);
        Assert.NotNull(_hand.Answer(first, second.Name, gives: true));
        _hand.Ask(second);
        Assert.Equal([second.Name], _hand.For(first).Asking);
        Assert.Null(_hand.Answer(first, second.Name, gives: false));
        Assert.False(_hand.For(second).Asks);
        Assert.True(_hand.Has(first));
        _hand.Ask(second);
        Assert.NotNull(_hand.Answer(second, second.Name, gives: true));
        Assert.Null(_hand.Answer(first, second.Name, gives: true));
        Assert.True(_hand.Has(second));
        Assert.False(_hand.Has(first));
    }

    [Fact]
    public void Who_is_lost_and_comes_back_in_time_has_it_still()
    {
        var first = _hand.Join("first", "");
        var second = _hand.Join("second", "");
        _hand.Leave(first);
        Assert.False(_hand.For(second).IsHolderThere);
        _time.Now += TimeSpan.FromSeconds(2);
        _hand.Join("third", "");
        Assert.Same(first, _hand.Join("first", ""));
        Assert.True(_hand.Has(first));
    }

    [Fact]
    public void Who_asks_while_it_lies_there_is_given_it_at_once_and_so_is_who_asked_before()
    {
        var (first, second, third) = (_hand.Join("first", ""), _hand.Join("second", ""), _hand.Join("third", ""));
        _hand.Leave(first);
        _hand.Ask(third);
        Assert.True(_hand.Has(third));
        _hand.Ask(second);
        _hand.Leave(third);
        Assert.True(_hand.Has(second));
    }

    [Fact]
    public void After_ten_seconds_whoever_comes_anew_has_it()
    {
        _hand.Leave(_hand.Join("first", ""));
        _time.Now += TimeSpan.FromSeconds(9);
        Assert.False(_hand.Has(_hand.Join("second", "")));
        _time.Now += TimeSpan.FromSeconds(2);
        Assert.True(_hand.Has(_hand.Join("third", "")));
    }

    [Fact]
    public void Who_closes_the_page_leaves_it_free_or_to_whoever_asked()
    {
        var (first, second) = (_hand.Join("first", ""), _hand.Join("second", ""));
        _hand.Leave(first, isClosed: true);
        Assert.Null(_hand.For(second).Holder);
        Assert.False(_hand.Has(second));
        var third = _hand.Join("third", "");
        Assert.True(_hand.Has(third));
        _hand.Ask(second);
        _hand.Leave(third, isClosed: true);
        Assert.True(_hand.Has(second));
    }

    // Whatever pages do, at most one may order, and nobody loses the hand while there without giving it.
    [Fact]
    public void There_is_never_more_than_one_hand() => Gen.Int[0, 4].Select(Gen.Int[0, 3]).Array[0, 60].Sample(steps =>
    {
        var hand = new HandControl(_time);
        var seats = Enumerable.Range(0, 4).Select(i => hand.Join($"page {i}", "")).ToArray();
        var there = new int[] { 1, 1, 1, 1 };
        foreach (var (step, i) in steps)
        {
            var before = Array.FindIndex(seats, hand.Has);
            switch (step)
            {
                case 0 when there[i] > 0: hand.Ask(seats[i]); break;
                case 1: hand.Answer(seats[i], seats[(i + 1) % 4].Name, gives: true); break;
                case 2 when there[i] > 0: hand.Leave(seats[i]); there[i]--; break;
                case 3 when there[i] == 0: hand.Join($"page {i}", ""); there[i]++; break;
                case 4: hand.Answer(seats[i], seats[(i + 1) % 4].Name, gives: false); break;
            }
            Assert.Equal(1, seats.Count(hand.Has));
            var after = Array.FindIndex(seats, hand.Has);
            Assert.True(after == before || there[before] == 0 || (step == 1 && i == before));
        }
    });

    private sealed class HandTime : TimeProvider
    {
        internal DateTimeOffset Now { get; set; } = new(2026, 11, 28, 20, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
