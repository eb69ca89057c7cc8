using System.Net;

namespace Mixscore.Page;

/// <summary>
/// Slows down whoever guesses pass phrases: after each wrong one its address must wait, a second, then two, four, up to a minute;
/// what is said meanwhile is not even looked at. Figures are our own. Any thread.
/// </summary>
internal sealed class GuessLimit(TimeProvider time)
{
    private const int MostAddresses = 4096;
    private const int MostDoublings = 6;
    private static readonly TimeSpan Forgets = TimeSpan.FromMinutes(15);
    private readonly Dictionary<IPAddress, (int Wrong, DateTimeOffset Until)> _byAddress = [];
    private readonly Lock _gate = new();

    /// <summary>How long an address must wait; zero for not at all.</summary>
    internal TimeSpan WaitOf(IPAddress address)
    {
        lock (_gate)
        {
            if (!_byAddress.TryGetValue(Network(address), out var found)) return TimeSpan.Zero;
            var left = found.Until - time.GetUtcNow();
            return left > TimeSpan.Zero ? left : TimeSpan.Zero;
        }
    }

    /// <summary>It was wrong.</summary>
    internal void Wrong(IPAddress address)
    {
        lock (_gate)
        {
            var now = time.GetUtcNow();
            if (_byAddress.Count >= MostAddresses)
                foreach (var old in _byAddress.Where(one => one.Value.Until + Forgets < now || one.Value.Wrong == 1).Select(one => one.Key).ToArray()) _byAddress.Remove(old);
            var before = _byAddress.GetValueOrDefault(Network(address));
            var wrong = before.Until + Forgets < now ? 1 : before.Wrong + 1;
            _byAddress[Network(address)] = (wrong, now + TimeSpan.FromSeconds(1 << Math.Min(wrong - 1, MostDoublings)));
        }
    }

    /// <summary>It was right.</summary>
    internal void Right(IPAddress address)
    {
        lock (_gate) _byAddress.Remove(Network(address));
    }

    // A host commands a whole IPv6 network of 64 bits (RFC 4291, 2.5.1): it guesses as one.
    private static IPAddress Network(IPAddress address)
    {
        if (address.IsIPv4MappedToIPv6) return address.MapToIPv4();
        if (address.GetAddressBytes() is not { Length: 16 } bytes) return address;
        bytes.AsSpan(8).Clear();
        return new IPAddress(bytes);
    }
}
