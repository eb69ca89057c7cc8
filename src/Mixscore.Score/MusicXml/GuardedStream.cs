using System.Xml;

namespace Mixscore.Score;

/// <summary>
/// A head that was read to look at it and the rest of the stream behind it, as one. Refuses a stretch without any
/// element that is longer than a score can need, so that no single text or attribute fills the memory.
/// </summary>
internal sealed class GuardedStream(ReadOnlyMemory<byte> head, Stream rest) : Stream
{
    private const int MostBetweenElements = 4 << 20;

    private int _at;
    private long _sinceElement;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        var count = _at < head.Length ? FromHead(buffer) : rest.Read(buffer);
        var element = buffer[..count].LastIndexOf((byte)'<');
        _sinceElement = element >= 0 ? count - element : _sinceElement + count;
        if (_sinceElement > MostBetweenElements) throw new XmlException("a single text is longer than a score can need");
        return count;
    }

    private int FromHead(Span<byte> buffer)
    {
        var count = Math.Min(buffer.Length, head.Length - _at);
        head.Span.Slice(_at, count).CopyTo(buffer);
        _at += count;
        return count;
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
