namespace Mixscore.Page;

/// <summary>
/// Who may order: many browsers may watch, one has the hand. The first that comes has it; others ask, and whoever has it gives it
/// or keeps it. A browser that is lost keeps the hand for a while, so that it may come back, but whoever asks meanwhile is given
/// it at once; one that is closed leaves it free. A page is known by a word that it made up for itself. Any thread.
/// </summary>
internal sealed class HandControl(TimeProvider time)
{
    /// <summary>How long a browser that is lost keeps the hand against one that comes anew; our own figure.</summary>
    private static readonly TimeSpan Kept = TimeSpan.FromSeconds(10);
    private readonly Lock _gate = new();
    private readonly List<Seat> _seats = [];
    private Seat? _hand;
    private int _named;

    /// <summary>Something of it has changed.</summary>
    internal event Action? Changed;

    /// <summary>A page of a browser.</summary>
    internal sealed class Seat(string word, string name)
    {
        internal string Word => word;

        internal string Name => name;

        internal int Wires { get; set; }

        internal bool Asks { get; set; }

        internal DateTimeOffset LeftAt { get; set; }
    }

    /// <summary>A page is there, or there again.</summary>
    /// <param name="word">What it calls itself.</param>
    /// <param name="from">Where it is, to be added to its name; empty for this machine.</param>
    internal Seat Join(string word, string from)
    {
        Seat seat;
        lock (_gate)
        {
            _seats.RemoveAll(one => one != _hand && one.Wires == 0 && time.GetUtcNow() - one.LeftAt > Kept);
            seat = _seats.Find(one => one.Word == word) ?? new Seat(word, $"page {++_named}{(from.Length > 0 ? $" at {from}" : "")}");
            if (!_seats.Contains(seat)) _seats.Add(seat);
            seat.Wires++;
            if (_hand is null || (_hand.Wires == 0 && time.GetUtcNow() - _hand.LeftAt > Kept)) _hand = seat;
        }
        Changed?.Invoke();
        return seat;
    }

    /// <summary>A wire of a page is gone.</summary>
    /// <param name="seat">The page.</param>
    /// <param name="isClosed">Whether the page said so itself, as a browser does that closes it; then the hand is free.</param>
    internal void Leave(Seat seat, bool isClosed = false)
    {
        lock (_gate)
        {
            if (--seat.Wires > 0) return;
            (seat.LeftAt, seat.Asks) = (time.GetUtcNow(), false);
            if (seat == _hand && isClosed) _hand = null;
            // Somebody who has asked already need not ask again.
            if ((_hand is null || _hand == seat) && _seats.Find(one => one.Asks && one.Wires > 0) is { } next) Hand(next);
        }
        Changed?.Invoke();
    }

    /// <summary>Whether a page has the hand.</summary>
    internal bool Has(Seat seat)
    {
        lock (_gate) return _hand == seat;
    }

    /// <summary>A page asks for the hand, or no longer.</summary>
    internal void Ask(Seat seat, bool asks = true)
    {
        lock (_gate)
        {
            if (asks && (_hand is null || _hand.Wires == 0)) Hand(seat);
            else if (seat != _hand) seat.Asks = asks;
        }
        Changed?.Invoke();
    }

    /// <summary>Whoever has the hand gives it to another, or keeps it.</summary>
    /// <returns>Why not, in words; <c>null</c> when it is done.</returns>
    internal string? Answer(Seat seat, string name, bool gives)
    {
        lock (_gate)
        {
            if (seat != _hand) return "this page does not have the hand";
            if (_seats.Find(one => one.Name == name && one.Asks && one.Wires > 0) is not { } other) return $"{name} does not ask for the hand";
            if (gives) Hand(other);
            else other.Asks = false;
        }
        Changed?.Invoke();
        return null;
    }

    /// <summary>What a page is told.</summary>
    internal (bool Has, string Name, string? Holder, bool IsHolderThere, bool Asks, IReadOnlyList<string> Asking) For(Seat? seat)
    {
        lock (_gate)
            return (seat is not null && seat == _hand, seat?.Name ?? "", _hand?.Name, _hand?.Wires > 0, seat?.Asks ?? false,
                [.. _seats.Where(one => one.Asks && one.Wires > 0).Select(one => one.Name)]);
    }

    private void Hand(Seat to) => (_hand, to.Asks) = (to, false);
}
