namespace Mixscore.Loudness;

/// <summary>Mean squares of blocks in order, kept in pieces of 48 kB that never move.</summary>
internal sealed class BlockStore
{
    private const int PieceLength = 6000;
    private readonly List<double[]> _pieces = [new double[PieceLength]];
    private int _inLast;

    public int Count => (_pieces.Count - 1) * PieceLength + _inLast;

    public int Pieces => _pieces.Count;

    public void Add(double meanSquare)
    {
        if (_inLast == PieceLength)
        {
            _pieces.Add(new double[PieceLength]);
            _inLast = 0;
        }
        _pieces[^1][_inLast++] = meanSquare;
    }

    public ReadOnlySpan<double> Piece(int index) => _pieces[index].AsSpan(0, index < _pieces.Count - 1 ? PieceLength : _inLast);

    public void CopyTo(Span<double> all)
    {
        for (var piece = 0; piece < Pieces; piece++)
        {
            Piece(piece).CopyTo(all);
            all = all[Piece(piece).Length..];
        }
    }
}
