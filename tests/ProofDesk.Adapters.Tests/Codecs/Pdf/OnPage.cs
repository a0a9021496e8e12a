using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Tests.Codecs.Pdf;

/// <summary>Where points of a page lie in the art: found from the edges of what is inked, whose place on the page is known.</summary>
internal sealed class OnPage
{
    private readonly Artwork _art;
    private readonly double _left;
    private readonly double _top;
    private readonly double _fromLeft;
    private readonly double _fromTop;

    /// <param name="left">Left edge of what is inked, in points of the page, from its bottom left corner; likewise the others.</param>
    public OnPage(Artwork art, double left, double right, double top)
    {
        (_art, _left, _top) = (art, left, top);
        var columns = Enumerable
            .Range(0, art.Pixels.Width)
            .Where(x => Any(y => Inked(x, y), art.Pixels.Height))
            .ToList();
        var rows = Enumerable.Range(0, art.Pixels.Height).Where(y => Any(x => Inked(x, y), art.Pixels.Width)).ToList();
        (_fromLeft, _fromTop) = (columns[0], rows[0]);
        PixelsPerPoint = (columns[^1] + 1 - columns[0]) / (right - left);
    }

    public double PixelsPerPoint { get; }

    private static bool Any(Func<int, bool> what, int count)
    {
        for (var i = 0; i < count; i++)
            if (what(i))
                return true;
        return false;
    }

    private bool Inked(int x, int y) => _art.Pixels.Row(y)[4 * x + 3] > 32767;

    private (int X, int Y) Place(double x, double y) =>
        ((int)(_fromLeft + (x - _left) * PixelsPerPoint), (int)(_fromTop + (_top - y) * PixelsPerPoint));

    public byte Coverage(string layer, double x, double y)
    {
        var at = Place(x, y);
        return _art.Layers.Single(l => l.Name == layer).Coverage[at.X, at.Y];
    }

    public double[] Pixel(double x, double y)
    {
        var at = Place(x, y);
        return [.. _art.Pixel(at.X, at.Y).Select(v => Math.Round(v, 3))];
    }

    /// <summary>Solid ink of a layer, in square points of the page.</summary>
    public double SquarePoints(string layer) =>
        _art.Layers.Single(l => l.Name == layer).Coverage.Pixels.Sum(p => (long)p)
        / 255.0
        / PixelsPerPoint
        / PixelsPerPoint;
}
