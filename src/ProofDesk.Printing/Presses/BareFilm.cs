using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Presses;

/// <summary>A film of which some patches do not reach the cloth. The film that is written out stays whole.</summary>
internal sealed class BareFilm : Film
{
    private readonly Film _film;
    private readonly Patch[] _patches;

    private BareFilm(Film film, Patch[] patches)
        : base(film.Plate, film.Width, film.Height) => (_film, _patches) = (film, patches);

    public override (double LinesPerInch, double AngleDegrees) TrueScreen => _film.TrueScreen;

    /// <summary>The film itself when no patch lies on it.</summary>
    public static Film Of(Film film, Films films, ImmutableArray<BarePatch> patches)
    {
        var (x, y) = (films.Device.XDpi / 25.4, films.Device.YDpi / 25.4);
        (double, double) Px((double X, double Y) mm) => (mm.X * x, mm.Y * y);
        Patch[] onFilm =
        [
            .. patches
                .Select(p => Patch.Of([Px(p.A), Px(p.B), Px(p.C), Px(p.D)], p.InPart))
                .Where(p => p.Bottom > 0 && p.Top < film.Height && p.Right > 0 && p.Left < film.Width),
        ];
        return onFilm.Length == 0 ? film : new BareFilm(film, onFilm);
    }

    public override void ReadRows(int top, BitPlane band)
    {
        _film.ReadRows(top, band);
        var bare = new ulong[band.Stride];
        foreach (var patch in _patches)
        {
            var (first, last) = (Math.Max(0, patch.Top - top), Math.Min(band.Height, patch.Bottom - top));
            for (var y = first; y < last; y++)
            {
                var (from, to) = patch.Span(top + y + 0.5);
                (from, to) = (Math.Max(0, from), Math.Min(Width, to));
                if (from >= to)
                    continue;
                BitRows.FillRun(bare, from, to);
                var (word, words) = (from >> 6, ((to - 1) >> 6) + 1 - (from >> 6));
                if (patch.InPart)
                    for (var i = word; i < word + words; i++)
                        bare[i] &= Half(i, top + y);
                BitRows.AndNot(band.Row(y).Slice(word, words), bare.AsSpan(word, words));
                bare.AsSpan(word, words).Clear();
            }
        }
    }

    /// <summary>Half of the film pixels of a word, in pairs of rows so that ink does not grow over all of them.</summary>
    private static ulong Half(int word, int y) => SeededNoise.Hash(0xBA5E, word, y >> 1);

    /// <summary>Corners in film pixels, and the rows and columns they span.</summary>
    private readonly record struct Patch(
        (double X, double Y)[] Corners,
        int Left,
        int Top,
        int Right,
        int Bottom,
        bool InPart
    )
    {
        public static Patch Of((double X, double Y)[] corners, bool inPart) =>
            new(
                corners,
                (int)Math.Floor(corners.Min(c => c.X)),
                (int)Math.Floor(corners.Min(c => c.Y)),
                (int)Math.Ceiling(corners.Max(c => c.X)),
                (int)Math.Ceiling(corners.Max(c => c.Y)),
                inPart
            );

        /// <summary>Pixels of one row inside the patch.</summary>
        public (int From, int To) Span(double y)
        {
            var (from, to) = (double.MaxValue, double.MinValue);
            for (var i = 0; i < Corners.Length; i++)
            {
                var (a, b) = (Corners[i], Corners[(i + 1) % Corners.Length]);
                if (a.Y > y == b.Y > y)
                    continue;
                var x = a.X + (b.X - a.X) * (y - a.Y) / (b.Y - a.Y);
                (from, to) = (Math.Min(from, x), Math.Max(to, x));
            }
            return from > to ? (0, 0) : ((int)Math.Round(from), (int)Math.Round(to));
        }
    }
}
