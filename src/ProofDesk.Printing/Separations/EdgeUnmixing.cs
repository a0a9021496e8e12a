using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// How much of each palette colour stands in each pixel, 0..255. In every pixel the shares add up to its alpha.
/// </summary>
/// <param name="Shares">One plane per palette colour.</param>
/// <param name="Fade">1 where the mixture is a soft fade or a tint, 0 where it is an edge.</param>
internal sealed record ArtShares(ImmutableArray<BytePlane> Shares, BytePlane Fade, bool HasFades);

/// <summary>
/// Takes antialiased edges apart. A blended pixel between two colours becomes shares of both, never a colour of its
/// own. Whether the art was blended in linear light or in sRGB codes is measured: over all directions and
/// positions an edge covers as many pixels by a little less than one half as by a little more, so the right space is the
/// one that finds them balanced. Fades are always shared in linear light: that is how the dots of a halftone mix.
/// </summary>
internal static class EdgeUnmixing
{
    /// <summary>A fade changes at most so many codes from pixel to pixel.</summary>
    private const int FadeStep = 16;

    /// <summary>Below 15 % the colour of 8-bit art is a guess: programs round it together with the alpha.</summary>
    private const int VagueAlpha = 9830;

    /// <summary>A fade above this share is solid: the growth of the ink closes what is left.</summary>
    private const int NearlySolid = 243;

    private const double LeastFadeMm2 = 1;
    private const int LeastFadePixels = 100;

    public static ArtShares Share(
        RgbaRaster art,
        SrgbCodes codes,
        ImmutableArray<PaletteColour> palette,
        double pixelsPerMm
    )
    {
        var shares = palette.Select(_ => new BytePlane(art.Width, art.Height)).ToImmutableArray();
        var fade = new BytePlane(art.Width, art.Height);
        if (palette.Length == 0)
            return new(shares, fade, false);
        var map = new PaletteMap(palette);
        var labels = EdgeLabels.Of(art, codes, map);
        var reach = (int)Math.Clamp(Math.Round(0.2 * pixelsPerMm), 2, 5);
        var inCodes = BlendedInCodes(art, codes, map, labels, reach);
        var fades = 0;
        RowLoop.Run(
            art.Height,
            art.Width * 4,
            y =>
            {
                var row = new RowUnmixer(art, codes, map, labels, reach, inCodes);
                if (row.Run(y, shares, fade))
                    Interlocked.Exchange(ref fades, 1);
            }
        );
        return new(shares, fade, fades != 0 && DropSpecks(fade, pixelsPerMm));
    }

    /// <summary>
    /// Soft pixels in patches smaller than a square millimetre are noise of compression, not fades: they stay edges. Whether any fade is
    /// left.
    /// </summary>
    private static bool DropSpecks(BytePlane fade, double pixelsPerMm)
    {
        var least = Math.Max(LeastFadePixels, LeastFadeMm2 * pixelsPerMm * pixelsPerMm);
        var left = false;
        foreach (var (patch, y, from, to) in Islands.Find(fade, threshold: 1).Runs)
            if (patch.Area < least)
                fade.Row(y)[from..(to + 1)].Clear();
            else
                left = true;
        return left;
    }

    private static bool BlendedInCodes(RgbaRaster art, SrgbCodes codes, PaletteMap map, BytePlane labels, int reach)
    {
        var unmixer = new RowUnmixer(art, codes, map, labels, reach, true);
        var (inCodes, inLight, count) = (new Balance(), new Balance(), 0);
        for (var y = 0; y < art.Height && count < 50_000; y += ColourHistogram.RowStep(art))
        {
            var row = labels.Row(y);
            for (var x = row.IndexOf(PaletteMap.Mixture); x >= 0 && x < row.Length; x++)
            {
                if (row[x] != PaletteMap.Mixture || unmixer.EdgeShares(x, y) is not { } edge)
                    continue;
                inCodes.Add(edge.InCodes);
                inLight.Add(edge.InLight);
                count++;
            }
        }
        // Few edges prove nothing; most programs blend in codes.
        return count < 100 || inCodes.Skew <= inLight.Skew;
    }

    /// <summary>
    /// Edge pixels with shares just below and just above one half. The ends are left out: there a pixel already counts as
    /// pure, and earlier at the light end than at the dark one.
    /// </summary>
    private struct Balance
    {
        private int _below;
        private int _above;

        public readonly double Skew => Math.Abs(_below - _above) / (1.0 + _below + _above);

        public void Add(double share)
        {
            if (share is > 0.2 and < 0.5)
                _below++;
            else if (share is >= 0.5 and < 0.8)
                _above++;
        }
    }

    private readonly struct RowUnmixer(
        RgbaRaster art,
        SrgbCodes codes,
        PaletteMap map,
        BytePlane labels,
        int reach,
        bool inCodes
    )
    {
        /// <summary>Shares of the lighter colour at an edge between exactly two colours of clearly different lightness.</summary>
        public (double InCodes, double InLight)? EdgeShares(int x, int y)
        {
            Span<int> around = stackalloc int[Palette.Most + 2];
            var (count, clear) = Around(x, y, around);
            if (count != 2 || clear || map.LightnessStep(around[0], around[1]) < 60)
                return null;
            var p = art.Row(y).Slice(4 * x, 4);
            if (map.BestPair(Cell(p), around[..2]).Off > 20)
                return null;
            var (dark, light) = map.Lighter(around[0], around[1]) ? (around[1], around[0]) : (around[0], around[1]);
            var coded = map.Share(true, dark, light, codes[p[0]], codes[p[1]], codes[p[2]]);
            return (coded, Light(dark, light, p));
        }

        /// <summary>Fills one row of all planes; true when a fade was found.</summary>
        public bool Run(int y, ImmutableArray<BytePlane> shares, BytePlane fade)
        {
            var row = labels.Row(y);
            var pixels = art.Row(y);
            var fades = fade.Row(y);
            var found = false;
            for (var x = 0; x < row.Length; x++)
            {
                if (row[x] == EdgeLabels.Clear)
                    continue;
                var alpha = (byte)((pixels[4 * x + 3] * 255 + 32767) / 65535);
                if (row[x] != PaletteMap.Mixture)
                {
                    shares[row[x]].Row(y)[x] = alpha;
                    if (alpha < NearlySolid && IsSmooth(x, y) && !AtTransparentEdge(x, y))
                        (fades[x], found) = (1, true);
                    continue;
                }
                var (one, other, second, soft) = Split(x, y, pixels.Slice(4 * x, 4));
                var part = (byte)Math.Round(alpha * second);
                if (soft && part > NearlySolid)
                    part = alpha;
                else if (soft && alpha - part > NearlySolid)
                    part = 0;
                shares[other].Row(y)[x] = part;
                shares[one].Row(y)[x] = (byte)(alpha - part);
                if (soft && part > 0 && part < alpha)
                    (fades[x], found) = (1, true);
            }
            return found;
        }

        private (int One, int Other, double Second, bool Soft) Split(int x, int y, ReadOnlySpan<ushort> p)
        {
            Span<int> around = stackalloc int[Palette.Most + 2];
            var (count, _) = Around(x, y, around);
            var cell = Cell(p);
            if (count >= 2)
            {
                var (one, other, off) = map.BestPair(cell, around[..count]);
                if (off < 40)
                {
                    var share = inCodes
                        ? map.Share(true, one, other, codes[p[0]], codes[p[1]], codes[p[2]])
                        : Light(one, other, p);
                    return (one, other, share, false);
                }
            }
            var (a, b) = map.Pair(cell);
            return (a, b, Light(a, b, p), IsSmooth(x, y));
        }

        private double Light(int one, int other, ReadOnlySpan<ushort> p) =>
            map.Share(false, one, other, p[0] / 65535.0, p[1] / 65535.0, p[2] / 65535.0);

        private int Cell(ReadOnlySpan<ushort> p) => ColourHistogram.Cell(codes[p[0]], codes[p[1]], codes[p[2]]);

        /// <summary>Palette colours that stand pure and solid near this pixel, and whether the cloth does.</summary>
        private (int Count, bool Clear) Around(int x, int y, Span<int> colours)
        {
            var (seen, count, clear) = (0, 0, false);
            for (var ny = Math.Max(0, y - reach); ny <= Math.Min(labels.Height - 1, y + reach); ny++)
            {
                var row = labels.Row(ny);
                for (var nx = Math.Max(0, x - reach); nx <= Math.Min(row.Length - 1, x + reach); nx++)
                {
                    var label = row[nx];
                    clear |= label == EdgeLabels.Clear;
                    if (label >= PaletteMap.Mixture || (seen >> label & 1) != 0)
                        continue;
                    seen |= 1 << label;
                    colours[count++] = label;
                }
            }
            return (count, clear);
        }

        /// <summary>Both solid colour and nothing at all lie near: the alpha here is an antialiased edge.</summary>
        private bool AtTransparentEdge(int x, int y)
        {
            // Beyond the art there is nothing either.
            var clear = x < reach || y < reach || x >= art.Width - reach || y >= art.Height - reach;
            var solid = false;
            for (var ny = Math.Max(0, y - reach); ny <= Math.Min(art.Height - 1, y + reach); ny++)
            {
                var row = art.Row(ny);
                for (var nx = Math.Max(0, x - reach); nx <= Math.Min(art.Width - 1, x + reach); nx++)
                {
                    solid |= row[4 * nx + 3] >= 62258;
                    clear |= row[4 * nx + 3] <= 3277;
                }
            }
            return solid && clear;
        }

        private bool IsSmooth(int x, int y)
        {
            var p = art.Row(y).Slice(4 * x, 4);
            return Near(p, x - 1, y) && Near(p, x + 1, y) && Near(p, x, y - 1) && Near(p, x, y + 1);
        }

        private bool Near(ReadOnlySpan<ushort> p, int x, int y)
        {
            if (x < 0 || y < 0 || x >= art.Width || y >= art.Height)
                return true;
            var q = art.Row(y).Slice(4 * x, 4);
            return Math.Abs((p[3] >> 8) - (q[3] >> 8)) <= FadeStep
                && (
                    Math.Min(p[3], q[3]) < VagueAlpha
                    || Math.Abs(codes[p[0]] - codes[q[0]]) <= FadeStep
                        && Math.Abs(codes[p[1]] - codes[q[1]]) <= FadeStep
                        && Math.Abs(codes[p[2]] - codes[q[2]]) <= FadeStep
                );
        }
    }
}
