using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Cutting;

/// <summary>
/// The outlines of a film's ink, read row by row from the very bits the picture was printed from: the corners where
/// pixel edges turn are linked while the rows pass, so memory goes with the length of the outlines and not with
/// the area. Each outline then runs through the middles of the pixel edges, as marching squares would lead it
/// (Lorensen and Cline 1987, in two dimensions), within half a film pixel of the bits. Ink that meets only at a corner is two pieces.
/// </summary>
public sealed class ContourTracer
{
    private const int BandRows = 256;

    private readonly List<Corner> _corners = [];

    // Pixel edges that cross the row above, by column: the corner each hangs from.
    private List<(int X, int Corner)> _above = [];
    private List<(int X, int Corner)> _below = [];

    private record struct Corner(int X, int Y, int First, int Second, bool StartsInk);

    private ContourTracer() { }

    /// <summary>All outlines of the ink, in mm at the device's resolution, within <paramref name="toleranceMm"/> of the bits.</summary>
    public static ImmutableArray<Contour> Trace(
        Film film,
        OutputDevice device,
        double toleranceMm,
        CancellationToken cancel = default
    )
    {
        var tracer = new ContourTracer();
        var changes = new int[film.Width + 1 + 4];
        for (var top = 0; top < film.Height; top += BandRows)
        {
            cancel.ThrowIfCancellationRequested();
            var band = new BitPlane(film.Width, Math.Min(BandRows, film.Height - top));
            film.ReadRows(top, band);
            for (var y = 0; y < band.Height; y++)
                tracer.AddRow(top + y, changes.AsSpan(0, Edges(band.Row(y), film.Width, changes)));
        }
        tracer.AddRow(film.Height, []);
        return tracer.Contours(25.4 / device.XDpi, 25.4 / device.YDpi, toleranceMm);
    }

    /// <summary>Columns where a row changes, the first one to ink; an even number.</summary>
    private static int Edges(ReadOnlySpan<ulong> row, int width, int[] changes)
    {
        var count = 0;
        ulong before = 0;
        for (var i = 0; i < row.Length; i++)
        {
            var word = row[i];
            for (var changed = word ^ (word << 1 | before); changed != 0; changed &= unchecked(changed - 1))
                changes[count++] = i * 64 + System.Numerics.BitOperations.TrailingZeroCount(changed);
            before = word >> 63;
        }
        // Ink that reaches the right border ends there.
        if ((count & 1) != 0)
            changes[count++] = width;
        return count;
    }

    private void AddRow(int y, ReadOnlySpan<int> changes)
    {
        _below.Clear();
        var (a, b) = (0, 0);
        var (inkAbove, inkBelow) = (false, false);
        var carry = -1;
        while (a < _above.Count || b < changes.Length)
        {
            var x = Math.Min(
                a < _above.Count ? _above[a].X : int.MaxValue,
                b < changes.Length ? changes[b] : int.MaxValue
            );
            var ends = a < _above.Count && _above[a].X == x;
            var starts = b < changes.Length && changes[b] == x;
            if (ends && starts)
            {
                if (inkAbove == inkBelow)
                    _below.Add((x, _above[a].Corner));
                else
                    Cross(x, y, _above[a].Corner, inkBelow, ref carry);
            }
            else
            {
                var corner = Add(x, y, !inkAbove);
                if (ends)
                    Link(corner, _above[a].Corner);
                else
                    _below.Add((x, corner));
                if (carry >= 0)
                    Link(corner, carry);
                carry = carry >= 0 ? -1 : corner;
            }
            if (ends)
                (a, inkAbove) = (a + 1, !inkAbove);
            if (starts)
                (b, inkBelow) = (b + 1, !inkBelow);
        }
        (_above, _below) = (_below, _above);
    }

    /// <summary>Four pixel edges meet; each of the two pixels of ink keeps its own corner.</summary>
    private void Cross(int x, int y, int fromAbove, bool inkBelowLeft, ref int carry)
    {
        var (first, second) = (Add(x, y, true), Add(x, y, true));
        if (inkBelowLeft)
        {
            Link(first, carry);
            _below.Add((x, first));
            Link(second, fromAbove);
        }
        else
        {
            Link(first, carry);
            Link(first, fromAbove);
            _below.Add((x, second));
        }
        carry = second;
    }

    private int Add(int x, int y, bool startsInk)
    {
        _corners.Add(new(x, y, -1, -1, startsInk));
        return _corners.Count - 1;
    }

    private void Link(int a, int b)
    {
        Put(a, b);
        Put(b, a);

        void Put(int corner, int other)
        {
            var c = _corners[corner];
            _corners[corner] = c.First < 0 ? c with { First = other } : c with { Second = other };
        }
    }

    private ImmutableArray<Contour> Contours(double mmPerX, double mmPerY, double toleranceMm)
    {
        var seen = new bool[_corners.Count];
        var contours = ImmutableArray.CreateBuilder<Contour>();
        var line = new List<(double X, double Y)>();
        for (var start = 0; start < _corners.Count; start++)
        {
            if (seen[start])
                continue;
            // Corners are made from the top down, so the first one of an outline is its highest: ink below it is a piece.
            var isHole = !_corners[start].StartsInk;
            line.Clear();
            var (at, next) = (start, _corners[start].First);
            do
            {
                seen[at] = true;
                AddMiddles(line, _corners[at], _corners[next], mmPerX, mmPerY);
                var corner = _corners[next];
                (at, next) = (next, corner.First == at ? corner.Second : corner.First);
            } while (at != start);
            var points = Simplify.Closed(line, toleranceMm);
            if (points.Length >= 3)
                contours.Add(new(points, isHole));
        }
        return contours.ToImmutable();
    }

    /// <summary>The middles of the first and the last pixel edge between two corners; those between lie on the same line.</summary>
    private static void AddMiddles(List<(double X, double Y)> line, Corner a, Corner b, double mmPerX, double mmPerY)
    {
        var (dx, dy) = (Math.Sign(b.X - a.X), Math.Sign(b.Y - a.Y));
        line.Add(((a.X + dx / 2.0) * mmPerX, (a.Y + dy / 2.0) * mmPerY));
        if (Math.Abs(b.X - a.X) + Math.Abs(b.Y - a.Y) > 1)
            line.Add(((b.X - dx / 2.0) * mmPerX, (b.Y - dy / 2.0) * mmPerY));
    }
}
