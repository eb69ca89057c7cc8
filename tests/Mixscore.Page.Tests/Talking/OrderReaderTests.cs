using System.Text;
using CsCheck;

namespace Mixscore.Page.Tests;

public sealed class OrderReaderTests : IDisposable
{
    private readonly SmallPiece _piece = new();
    private readonly OrderReader _reader;

    public OrderReaderTests() => _reader = new OrderReader(["near.voice", "near.engine"], ["near"], _piece.Project.Timeline);

    public void Dispose() => _piece.Dispose();

    [Fact]
    public void Orders_are_read()
    {
        Assert.Equal(new Order.Play(1), Read("""{"do":"play","n":1}"""));
        Assert.Equal(new Order.Take(2, 1, -6.2), Read("""{"do":"take","n":2,"source":"near.engine","db":-6.2}"""));
        Assert.Equal(new Order.Take(3, 0, null), Read("""{"do":"take","n":3,"source":"near.voice","db":null}"""));
        Assert.Equal(new Order.Jump(4, 8), Read("""{"do":"jump","n":4,"at":"A"}"""));
        Assert.Equal(new Order.Jump(5, 18), Read("""{"do":"jump","n":5,"at":"3@2:3"}"""));
        Assert.Equal(new Order.Loop(6, (2, 5)), Read("""{"do":"loop","n":6,"first":2,"last":5}"""));
    }

    [Theory]
    [InlineData("""{"do":"play"}""")]
    [InlineData("""{"do":"fly","n":1}""")]
    [InlineData("""{"do":"take","n":1,"source":"near.voice","db":1e308}""")]
    [InlineData("""{"do":"take","n":1,"source":"../voice","db":0}""")]
    [InlineData("""{"do":"take","n":-1,"source":"near.voice","db":0}""")]
    [InlineData("""{"do":"jump","n":1,"at":"99"}""")]
    [InlineData("""{"do":"jump","n":1,"at":{"a":{"b":1}}}""")]
    [InlineData("""{"do":"loop","n":1,"first":5,"last":2}""")]
    [InlineData("""{"do":"loop","n":1,"first":0,"last":2}""")]
    [InlineData("""{"do":"play","n":1}{"do":"play","n":2}""")]
    [InlineData("[[[[[[]]]]]]")]
    [InlineData("")]
    public void What_is_no_order_is_refused_with_a_word(string text)
    {
        Assert.False(_reader.TryRead(Encoding.UTF8.GetBytes(text), out var order, out var problem));
        Assert.Null(order);
        Assert.NotEmpty(problem);
    }

    // Fuzz: an order with bytes changed is read or refused, and never breaks anything.
    [Fact]
    public void Broken_orders_break_nothing() =>
        Gen.Select(Gen.Bool.Select(takes => takes ? """{"do":"take","n":2,"source":"near.engine","db":-6.2}""" : """{"do":"jump","n":4,"at":"A+1:2"}"""), Gen.Int[0, 60], Gen.Byte, Gen.Int[0, 60])
            .Sample((text, place, value, length) =>
            {
                var bytes = Encoding.UTF8.GetBytes(text);
                bytes[place % bytes.Length] = value;
                _reader.TryRead(bytes.AsSpan(0, Math.Max(1, bytes.Length - length % 8)), out _, out _);
            }, iter: 3000);

    private object? Read(string text)
    {
        Assert.True(_reader.TryRead(Encoding.UTF8.GetBytes(text), out var order, out var problem), problem);
        return order;
    }
}
