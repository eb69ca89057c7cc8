using Mixscore.Protocols.Midi;
using Mixscore.Protocols.RtpMidi;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// One end of an RTP-MIDI session, without sockets: datagrams go in and out, time is passed in. It invites or waits, compares
/// clocks, mends what was lost by the journal, guards what was sent last, and says what it has. Not safe for several threads.
/// </summary>
public sealed class RtpMidiPeer
{
    // Once a second while nobody answers, and without end, so that a desk may be switched on last. The rest is common practice
    // where a comment says so, and otherwise our own choice.
    private static readonly TimeSpan InviteEvery = TimeSpan.FromSeconds(1);

    // Common practice: a few comparisons soon after the beginning, then one in ten seconds.
    private static readonly TimeSpan CompareSoon = TimeSpan.FromSeconds(1.5);
    private static readonly TimeSpan CompareLater = TimeSpan.FromSeconds(10);
    private const int SoonComparisons = 6;
    private static readonly TimeSpan LostAfter = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan FeedbackEvery = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan FirstGuard = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan LongestGuard = TimeSpan.FromSeconds(1);
    private readonly RtpMidiIdentity _identity;
    private readonly TimeProvider _time;
    private readonly RtpMidiOutlet _outlet;
    private readonly MidiReceived _received;
    private readonly long _start;
    private readonly byte[] _packet = new byte[RtpMidiOutgoing.MostBytes];
    private readonly bool _invites;
    private RtpMidiOutgoing _outgoing;
    private RtpMidiIncoming _incoming;
    private uint _token;
    private bool _controlAccepted;
    private TimeSpan _nextInvitation;
    private TimeSpan _nextComparison;
    private int _comparisons;
    private TimeSpan _lastHeard;
    private TimeSpan _nextFeedback;
    private ushort? _told;
    private TimeSpan _nextGuard;
    private TimeSpan _guardAfter = FirstGuard;

    /// <summary>An end of a session.</summary>
    /// <param name="identity">Who it is.</param>
    /// <param name="invites">True to invite, false to wait for an invitation.</param>
    /// <param name="time">The clock.</param>
    /// <param name="outlet">Sends datagrams.</param>
    /// <param name="received">Takes messages.</param>
    public RtpMidiPeer(RtpMidiIdentity identity, bool invites, TimeProvider time, RtpMidiOutlet outlet, MidiReceived received)
    {
        (_identity, _invites, _time, _outlet, _received) = (identity, invites, time, outlet, received);
        (_start, _token) = (time.GetTimestamp(), identity.Token);
        (_outgoing, _incoming) = (new RtpMidiOutgoing(identity.Source, identity.FirstSequence), new RtpMidiIncoming(received, Faults));
        State = invites ? RtpMidiState.Inviting : RtpMidiState.Waiting;
    }

    /// <summary>Where the session stands.</summary>
    public RtpMidiState State { get; private set; }

    /// <summary>The SSRC of the other end; <c>null</c> before one is known.</summary>
    public uint? Other { get; private set; }

    /// <summary>What the other end calls itself; <c>null</c> where it does not say.</summary>
    public string? OtherName { get; private set; }

    /// <summary>There and back by the last comparison of clocks; <c>null</c> before the first.</summary>
    public TimeSpan? RoundTrip { get; private set; }

    /// <summary>The other end's session clock less ours, by the last comparison; <c>null</c> before the first.</summary>
    public TimeSpan? ClockOffset { get; private set; }

    /// <summary>What was wrong with datagrams that were dropped.</summary>
    public FaultCounts<RtpMidiFault> Faults { get; } = new();

    /// <summary>Datagrams from someone who is not the other end, and session packets of no known kind.</summary>
    public long Strange { get; private set; }

    /// <summary>Packets that were missing when a later one came, in this session.</summary>
    public long Missing => _incoming.Missing;

    /// <summary>Packets that came after a later one, or twice, in this session.</summary>
    public long Late => _incoming.Late;

    /// <summary>Gaps that no journal mended, in this session.</summary>
    public long Unmended => _incoming.Unmended;

    /// <summary>True while something was sent of which the other end has not said that it has it.</summary>
    public bool AwaitsFeedback => _outgoing.AwaitsFeedback;

    private TimeSpan Now => _time.GetElapsedTime(_start);

    // The unit of the session's clock is 100 µs.
    private ulong Ticks => (ulong)(Now.Ticks / (TimeSpan.TicksPerMillisecond / 10));

    /// <summary>Sends messages, in one packet as far as they fit.</summary>
    /// <returns>False when the session is not open; nothing is sent then.</returns>
    public bool Send(params ReadOnlySpan<MidiMessage> messages)
    {
        if (State != RtpMidiState.Open) return false;
        while (messages.Length > 0) SendPacket(ref messages);
        (_guardAfter, _nextGuard) = (FirstGuard, Now + FirstGuard);
        return true;
    }

    /// <summary>Sends a system exclusive message, such as a full frame of timecode. The journal does not guard it: when its packet is
    /// lost, nobody hears of it.</summary>
    /// <param name="exclusive">With F0 and F7.</param>
    /// <returns>False when the session is not open or the message too long for a packet (722 bytes); nothing is sent then.</returns>
    /// <exception cref="ArgumentException">It is no such message.</exception>
    public bool SendExclusive(ReadOnlySpan<byte> exclusive)
    {
        if (State != RtpMidiState.Open) return false;
        var length = _outgoing.WriteExclusive(exclusive, unchecked((uint)Ticks), _packet);
        if (length == 0) return false;
        _outlet(RtpMidiPort.Data, _packet.AsSpan(0, length));
        return true;
    }

    /// <summary>Says good-bye and ends.</summary>
    public void End()
    {
        if (State is RtpMidiState.Open or RtpMidiState.Inviting) SendSession(RtpMidiPort.Control, RtpMidiSessionKind.End);
        State = RtpMidiState.Ended;
    }

    /// <summary>Does what is due. To be called about every 20 ms.</summary>
    public void Tick()
    {
        var now = Now;
        if (State == RtpMidiState.Inviting && now >= _nextInvitation)
        {
            _nextInvitation = now + InviteEvery;
            SendSession(_controlAccepted ? RtpMidiPort.Data : RtpMidiPort.Control, RtpMidiSessionKind.Invite);
        }
        if (State != RtpMidiState.Open) return;
        if (now - _lastHeard > LostAfter)
        {
            Lose();
            return;
        }
        if (_invites && now >= _nextComparison)
        {
            _nextComparison = now + (++_comparisons < SoonComparisons ? CompareSoon : CompareLater);
            SendClock(new RtpMidiClockPacket(_identity.Source, 0, Ticks));
        }
        if (now >= _nextFeedback && _incoming.Last != _told) Tell();
        if (now < _nextGuard || !_outgoing.AwaitsFeedback) return;
        ReadOnlySpan<MidiMessage> none = [];
        SendPacket(ref none);
        _guardAfter = TimeSpan.FromTicks(Math.Min(2 * _guardAfter.Ticks, LongestGuard.Ticks));
        _nextGuard = now + _guardAfter;
    }

    /// <summary>Takes a datagram from the other end, or from a stranger.</summary>
    public void Take(RtpMidiPort port, ReadOnlySpan<byte> datagram)
    {
        if (State == RtpMidiState.Ended) return;
        if (RtpMidiInvitation.TryRead(datagram, out var invitation)) Take(port, invitation);
        else if (RtpMidiClockPacket.TryRead(datagram, out var clock)) Take(clock);
        else if (RtpMidiFeedback.TryRead(datagram, out var feedback))
        {
            if (Heard(feedback.Source)) _outgoing.Feedback(feedback);
        }
        else if (datagram is [0xFF, 0xFF, ..]) Strange++;
        else TakeRtp(datagram);
    }

    private void TakeRtp(ReadOnlySpan<byte> datagram)
    {
        var isPacket = RtpMidiPacket.TryRead(datagram, out var packet, out var fault);
        Faults.Count(fault);
        if (!isPacket || !Heard(packet.Header.Source)) return;
        if (_incoming.Take(packet)) Tell();
    }

    private void Take(RtpMidiPort port, RtpMidiInvitation invitation)
    {
        switch (invitation.Kind)
        {
            case RtpMidiSessionKind.Invite when !_invites:
                // On the control port it begins a session anew, unless it is the same one asked for once more.
                if (port == RtpMidiPort.Control && (State == RtpMidiState.Waiting || Other != invitation.Source || _token != invitation.Token))
                    Begin(invitation);
                if (Other != invitation.Source) Strange++;
                else
                {
                    SendSession(port, RtpMidiSessionKind.Accept);
                    if (port == RtpMidiPort.Data) Open();
                }
                break;
            case RtpMidiSessionKind.Accept when State == RtpMidiState.Inviting && invitation.Token == _token:
                (Other, OtherName, _nextInvitation) = (invitation.Source, invitation.Name, Now);
                if (port == RtpMidiPort.Data) Open();
                else _controlAccepted = true;
                Tick();
                break;
            case RtpMidiSessionKind.Refuse when State == RtpMidiState.Inviting && invitation.Token == _token:
                // Someone else has it; it may be free later.
                (_controlAccepted, _nextInvitation) = (false, Now + InviteEvery);
                break;
            case RtpMidiSessionKind.End when Other == invitation.Source:
                Lose();
                break;
            default:
                Strange++;
                break;
        }
    }

    private void Take(RtpMidiClockPacket clock)
    {
        if (!Heard(clock.Source)) return;
        switch (clock.Count)
        {
            case 0:
                SendClock(clock with { Source = _identity.Source, Count = 1, Time2 = Ticks });
                break;
            case 1:
                var whole = clock with { Source = _identity.Source, Count = 2, Time3 = Ticks };
                SendClock(whole);
                (RoundTrip, ClockOffset) = (Span(whole.RoundTrip), Span(-whole.Offset));
                break;
            default:
                (RoundTrip, ClockOffset) = (Span(clock.RoundTrip), Span(clock.Offset));
                break;
        }
    }

    private static TimeSpan Span(long units) => TimeSpan.FromTicks(Math.Clamp(units, -int.MaxValue, int.MaxValue) * (TimeSpan.TicksPerMillisecond / 10));

    private bool Heard(uint source)
    {
        if (State == RtpMidiState.Open && Other == source)
        {
            _lastHeard = Now;
            return true;
        }
        Strange++;
        return false;
    }

    private void Begin(RtpMidiInvitation invitation)
    {
        (Other, OtherName, _token) = (invitation.Source, invitation.Name, invitation.Token);
        State = RtpMidiState.Waiting;
    }

    private void Open()
    {
        if (State == RtpMidiState.Open) return;
        State = RtpMidiState.Open;
        // Each session numbers its packets anew, and forgets what an earlier one was owed.
        _outgoing = new RtpMidiOutgoing(_identity.Source, _identity.FirstSequence);
        _incoming = new RtpMidiIncoming(_received, Faults);
        (_lastHeard, _nextComparison, _comparisons, _told, RoundTrip, ClockOffset) = (Now, Now, 0, null, null, null);
    }

    private void Lose()
    {
        State = _invites ? RtpMidiState.Inviting : RtpMidiState.Waiting;
        (_controlAccepted, _nextInvitation) = (false, Now + InviteEvery);
        // A token of its own for every session, so that a late answer to the last one opens nothing.
        if (_invites) _token = unchecked(_token + 1);
        else Other = null;
    }

    private void Tell()
    {
        if (_incoming.Last is not { } last) return;
        // In both halves, since programs differ in which they read.
        Span<byte> bytes = stackalloc byte[RtpMidiFeedback.Bytes];
        new RtpMidiFeedback(_identity.Source, ((uint)last << 16) | last).Write(bytes);
        _outlet(RtpMidiPort.Control, bytes);
        (_told, _nextFeedback) = (last, Now + FeedbackEvery);
    }

    private void SendPacket(ref ReadOnlySpan<MidiMessage> messages)
    {
        var length = _outgoing.Write(ref messages, unchecked((uint)Ticks), _packet);
        _outlet(RtpMidiPort.Data, _packet.AsSpan(0, length));
    }

    private void SendClock(RtpMidiClockPacket clock)
    {
        Span<byte> bytes = stackalloc byte[RtpMidiClockPacket.Bytes];
        clock.Write(bytes);
        _outlet(RtpMidiPort.Data, bytes);
    }

    private void SendSession(RtpMidiPort port, RtpMidiSessionKind kind) => _outlet(port,
        new RtpMidiInvitation(kind, _token, _identity.Source, kind == RtpMidiSessionKind.End ? null : _identity.Name).Encode());
}

/// <summary>Who an end of a session is.</summary>
/// <param name="Name">What it calls itself.</param>
/// <param name="Source">Its SSRC; no two ends have the same.</param>
/// <param name="Token">The token of its first invitation.</param>
/// <param name="FirstSequence">The number of the first packet of each session.</param>
public sealed record RtpMidiIdentity(string Name, uint Source, uint Token, ushort FirstSequence)
{
    /// <summary>An identity with numbers that nobody else is likely to have.</summary>
    public static RtpMidiIdentity Random(string name) => new(
        name, (uint)System.Security.Cryptography.RandomNumberGenerator.GetInt32(1, int.MaxValue),
        (uint)System.Security.Cryptography.RandomNumberGenerator.GetInt32(1, int.MaxValue),
        (ushort)System.Security.Cryptography.RandomNumberGenerator.GetInt32(0, 32768));
}
