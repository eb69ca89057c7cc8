using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>
/// Holds back what a MIDI wire has no room for, and lets the largest error go first; of a control that changes again while it
/// waits only the last value is sent. Takes no memory after it is made. Not safe for several threads.
/// </summary>
internal sealed class MidiThinner
{
    private const int Parts = 3;
    private const double Unknown = double.NaN;

    /// <summary>A switch that is not as it should be goes before every fader that is known.</summary>
    private const double SwitchError = 1000;

    private readonly StripAddresses _addresses;
    private readonly DeskMap _map;
    private readonly TimeProvider _time;
    private readonly WireRoom _room;
    private readonly double[] _sent = new double[Parts * StripAddresses.MostStrips];
    private readonly double[] _wanted = new double[Parts * StripAddresses.MostStrips];
    private readonly bool[] _waits = new bool[Parts * StripAddresses.MostStrips];
    private readonly int[] _waiting = new int[Parts * StripAddresses.MostStrips];   // in the order in which they came
    private readonly double[] _errors = new double[Parts * StripAddresses.MostStrips];
    private readonly int[] _chosen = new int[Parts * StripAddresses.MostStrips];
    private int _count, _chosenCount;

    internal MidiThinner(StripAddresses addresses, DeskMap map, TimeProvider time)
    {
        (_addresses, _map, _time) = (addresses, map, time);
        _room = new WireRoom(time.TimestampFrequency);
        Array.Fill(_sent, Unknown);
    }

    /// <summary>Whether something waits.</summary>
    internal bool IsWaiting => _count > 0;

    /// <summary>The most bytes that were sent in any second.</summary>
    internal int PeakBytes => _room.Peak;

    /// <summary>What waits and is not as it should be.</summary>
    internal DeskBehind Behind
    {
        get
        {
            var controls = 0;
            var worst = 0.0;
            for (var i = 0; i < _count; i++)
            {
                var slot = _waiting[i];
                if (_wanted[slot] == _sent[slot]) continue;
                controls++;
                if (PartOf(slot) == StripPart.Fader) worst = Math.Max(worst, double.IsNaN(_sent[slot]) ? (_map.Fader.Law.Highest - _map.Fader.Law.Lowest).Value : ErrorOf(slot));
            }
            return new DeskBehind(controls, Decibels.Of(worst));
        }
    }

    /// <summary>Takes values that are to be sent; those of controls without an address are passed over.</summary>
    internal void Take(ReadOnlySpan<StripValue> values)
    {
        foreach (var value in values)
        {
            if (_addresses.BytesOf(value.Part, value.Strip) == 0) continue;
            var slot = ((int)value.Part * StripAddresses.MostStrips) + value.Strip - 1;
            _wanted[slot] = value.Value;
            if (_waits[slot]) continue;
            _waits[slot] = true;
            _waiting[_count++] = slot;
        }
    }

    /// <summary>Writes the messages that there is room for now, the largest error first.</summary>
    /// <param name="packet">Where to.</param>
    /// <returns>Bytes written; 0 where nothing waits or there is no room. <see cref="Sent"/> or <see cref="Lost"/> must follow.</returns>
    internal int Write(Span<byte> packet)
    {
        _chosenCount = 0;
        var now = _time.GetTimestamp();
        var room = Math.Min(_room.At(now), packet.Length);
        for (var i = 0; i < _count; i++) _errors[i] = ErrorOf(_waiting[i]);
        var length = 0;
        while (true)
        {
            var first = -1;
            for (var i = 0; i < _count; i++)
                if (_errors[i] >= 0 && (first < 0 || _errors[i] > _errors[first])) first = i;
            if (first < 0) break;
            var slot = _waiting[first];
            if (length + _addresses.BytesOf(PartOf(slot), StripOf(slot)) > room) break;
            length += _addresses.WriteMidi(new StripValue(StripOf(slot), PartOf(slot), _wanted[slot]), packet[length..]);
            _errors[first] = -1;
            _chosen[_chosenCount++] = first;
        }
        if (length > 0) _room.Take(now, length);
        return length;
    }

    /// <summary>What was written last has gone.</summary>
    internal void Sent()
    {
        for (var i = 0; i < _chosenCount; i++) _sent[_waiting[_chosen[i]]] = _wanted[_waiting[_chosen[i]]];
        Forget();
    }

    /// <summary>What was written last did not go, and nobody knows what the desk has: all that waits is given up, as its sender is told.</summary>
    internal void Lost()
    {
        Array.Fill(_sent, Unknown);
        for (var i = 0; i < _count; i++) _waits[_waiting[i]] = false;
        (_count, _chosenCount) = (0, 0);
    }

    private void Forget()
    {
        for (var i = 0; i < _chosenCount; i++)
        {
            _waits[_waiting[_chosen[i]]] = false;
            _waiting[_chosen[i]] = -1;
        }
        var kept = 0;
        for (var i = 0; i < _count; i++)
            if (_waiting[i] >= 0) _waiting[kept++] = _waiting[i];
        (_count, _chosenCount) = (kept, 0);
    }

    private static StripPart PartOf(int slot) => (StripPart)(slot / StripAddresses.MostStrips);

    private static int StripOf(int slot) => (slot % StripAddresses.MostStrips) + 1;

    /// <summary>How far the control is from its value, in dB for a fader; what was never set comes first.</summary>
    private double ErrorOf(int slot)
    {
        if (double.IsNaN(_sent[slot])) return double.MaxValue;
        if (_wanted[slot] == _sent[slot]) return 0;
        if (PartOf(slot) != StripPart.Fader) return SwitchError;
        return Math.Abs(Gain(_wanted[slot]) - Gain(_sent[slot]));
    }

    private double Gain(double value) => (_map.Fader.Law.ToGain(value) ?? _map.Fader.Law.Lowest).Value;
}
