namespace Mixscore.Score;

/// <summary>
/// Unpacked content that is only read, and that refuses to give more than a limit, or far more than its packed size can
/// honestly hold: scores shrink to a thirtieth or so, bombs to a thousandth.
/// </summary>
internal sealed class CountedStream(Stream inner, long packed, long most, string name) : Stream
{
    private const long Believed = 8L << 20;
    private const int MostToOne = 100;

    private readonly long _most = Math.Min(most, Math.Max(Believed, packed * MostToOne));
    private long _given;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position { get => _given; set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        var read = inner.Read(buffer);
        _given += read;
        if (_given > _most)
            throw new InputException(new Fault("MX002", new Place(name), $"the package unpacks to more than {_most >> 20} MB", "export the score again; this package is not one that a notation program writes"));
        return read;
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing) inner.Dispose();
        base.Dispose(disposing);
    }
}
