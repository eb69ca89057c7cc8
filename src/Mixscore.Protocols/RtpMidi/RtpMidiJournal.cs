namespace Mixscore.Protocols.RtpMidi;

/// <summary>The layout of the recovery journal (RFC 6295, section 5 and appendix A).</summary>
internal static class RtpMidiJournal
{
    internal const int HeaderBytes = 3;
    internal const int ChannelHeaderBytes = 3;
    internal const int SystemHeaderBytes = 2;
    internal const int ParameterHeaderBytes = 2;

    // The S bit stands first in every structure: set when nothing in it comes from the packet before.
    internal const int OlderThanLast = 0x80;

    // Journal header.
    internal const int HasSystem = 0x40;
    internal const int HasChannels = 0x20;

    // Table of contents of a channel journal, in the order in which chapters follow.
    internal const int ChapterP = 0x80;
    internal const int ChapterC = 0x40;
    internal const int ChapterM = 0x20;
    internal const int ChapterW = 0x10;
    internal const int ChapterPBytes = 3;
    internal const int ChapterWBytes = 2;

    // Chapter M header.
    internal const int Pending = 0x40;
    internal const int InProgress = 0x20;
    internal const int AllRpn = 0x10;
    internal const int AllNrpn = 0x08;
    internal const int AllLow = 0x04;

    // Chapter M: Q bit of a parameter number, then the fields that a log holds.
    internal const int IsNrpn = 0x80;
    internal const int EntryHigh = 0x80;
    internal const int EntryLow = 0x40;
    internal const int AButton = 0x20;
    internal const int CButton = 0x10;
    internal const int Count = 0x08;
    internal const int ByValue = 0x02;

    // RFC 6295, appendix A.4: these controllers belong to the parameter system, not to chapter C.
    internal static bool IsParameterController(int controller) => controller is 6 or 38 or (>= 96 and <= 101);
}
