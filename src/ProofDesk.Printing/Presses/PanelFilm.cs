using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Presses;

/// <summary>A panel and how far it was sewn from where it should be.</summary>
/// <param name="OutlineMm">Closed outline, mm from the print's top left corner.</param>
internal sealed record SewnPanel(ImmutableArray<(double X, double Y)> OutlineMm, double DxMm, double DyMm);

/// <summary>
/// A film as it is seen on the sewn garment: each panel carries its part of the art with it. Panels in the order they
/// lie, the last on top; beside them the film is as it was.
/// </summary>
internal sealed class PanelFilm : Film
{
    private readonly Film _film;
    private readonly (int Dx, int Dy, (double X, double Y)[] Outline)[] _panels;

    public PanelFilm(Film film, Films films, ImmutableArray<SewnPanel> panels)
        : base(film.Plate, film.Width, film.Height)
    {
        var (x, y) = (films.Device.XDpi / 25.4, films.Device.YDpi / 25.4);
        _film = film;
        _panels =
        [
            .. panels.Select(p =>
                (
                    (int)Math.Round(p.DxMm * x),
                    (int)Math.Round(p.DyMm * y),
                    p.OutlineMm.Select(q => (q.X * x, q.Y * y)).ToArray()
                )
            ),
        ];
    }

    public override (double LinesPerInch, double AngleDegrees) TrueScreen => _film.TrueScreen;

    public override void ReadRows(int top, BitPlane band)
    {
        _film.ReadRows(top, band);
        var moved = new BitPlane(band.Width, band.Height);
        var row = new ulong[band.Stride];
        var crossings = new List<double>();
        foreach (var (dx, dy, outline) in _panels)
        {
            _film.ReadRows(top - dy, moved);
            for (var y = 0; y < band.Height; y++)
            {
                Cross(outline, top + y + 0.5, crossings);
                if (crossings.Count < 2)
                    continue;
                BitRows.Move(moved.Row(y), row, band.Width, dx);
                for (var i = 0; i + 1 < crossings.Count; i += 2)
                {
                    var from = Math.Clamp((int)Math.Round(crossings[i]), 0, Width);
                    var to = Math.Clamp((int)Math.Round(crossings[i + 1]), 0, Width);
                    if (from < to)
                        BitRows.CopyBits(row, from, band.Row(y), from, to - from);
                }
            }
        }
    }

    /// <summary>Where a row meets the outline, left to right; inside between the first and the second, and so on.</summary>
    private static void Cross((double X, double Y)[] outline, double y, List<double> crossings)
    {
        crossings.Clear();
        for (var i = 0; i < outline.Length; i++)
        {
            var (a, b) = (outline[i], outline[i + 1 == outline.Length ? 0 : i + 1]);
            if (a.Y > y != b.Y > y)
                crossings.Add(a.X + (b.X - a.X) * (y - a.Y) / (b.Y - a.Y));
        }
        crossings.Sort();
    }
}
