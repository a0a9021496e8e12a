namespace ProofDesk.Printing.Artworks;

/// <summary>Where most of something lies that is scattered over the art: it is counted in cells of a few millimetres.</summary>
internal sealed class SpotGrid
{
    private const double CellMm = 4;

    private readonly int _cell;
    private readonly int _across;
    private readonly double _pixelsPerMm;
    private readonly long[] _counts;

    public SpotGrid(int width, int height, double pixelsPerMm)
    {
        _pixelsPerMm = pixelsPerMm;
        _cell = Math.Max(1, (int)Math.Round(CellMm * pixelsPerMm));
        _across = (width + _cell - 1) / _cell;
        _counts = new long[_across * ((height + _cell - 1) / _cell)];
    }

    /// <summary>An empty grid of the same cells, to count a part of the rows in.</summary>
    private SpotGrid(SpotGrid other)
    {
        (_cell, _across, _pixelsPerMm) = (other._cell, other._across, other._pixelsPerMm);
        _counts = new long[other._counts.Length];
    }

    public SpotGrid Part() => new(this);

    public void Add(int x, int y) => _counts[y / _cell * _across + x / _cell]++;

    /// <summary>Sums are the same in whichever order parts come.</summary>
    public void Add(SpotGrid part)
    {
        lock (_counts)
            for (var i = 0; i < _counts.Length; i++)
                _counts[i] += part._counts[i];
    }

    /// <summary>The fullest cell with those of its neighbours that hold a quarter as much or more; null when nothing was counted.</summary>
    public FindingSpot? Densest()
    {
        var most = _counts.Length == 0 ? 0 : _counts.Max();
        if (most == 0)
            return null;
        var at = Array.IndexOf(_counts, most);
        var (x, y) = (at % _across, at / _across);
        var (left, top, right, bottom) = (x, y, x, y);
        for (var ny = Math.Max(0, y - 1); ny <= Math.Min(_counts.Length / _across - 1, y + 1); ny++)
        for (var nx = Math.Max(0, x - 1); nx <= Math.Min(_across - 1, x + 1); nx++)
            if (4 * _counts[ny * _across + nx] >= most)
                (left, top, right, bottom) = (
                    Math.Min(left, nx),
                    Math.Min(top, ny),
                    Math.Max(right, nx),
                    Math.Max(bottom, ny)
                );
        return FindingSpot.OfPixels(
            left * _cell,
            top * _cell,
            (right + 1) * _cell - 1,
            (bottom + 1) * _cell - 1,
            _pixelsPerMm
        );
    }
}
