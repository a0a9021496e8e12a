using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>
/// Takes the antialiased edges of flat areas apart: a pixel beside one is so much of the flat colour and so much of what lies
/// beyond it, the cloth, another flat colour or the nearest painted pixel past the edge. Blended in sRGB codes, as
/// drawing programs do.
/// </summary>
internal sealed class FlatShares
{
    /// <summary>An antialiased edge is over after so many pixels.</summary>
    private const int Edge = 2;

    /// <summary>What lies beyond it is looked for so far.</summary>
    private const int Beyond = 4;

    /// <summary>Colours nearer than this, codes, have no edge between them.</summary>
    private const double NoEdge = 24;

    /// <summary>Shares nearer than this to none or all are noise.</summary>
    private const double Sure = 0.06;

    /// <summary>Distance, codes, up to which a pixel at the rim is whole.</summary>
    private const double Whole = 6;

    /// <summary>A pixel this far, codes, from every blend of its neighbours is painted.</summary>
    private const double Unexplained = 60;

    private readonly RgbaRaster _art;
    private readonly SrgbCodes _codes;
    private readonly BytePlane _labels;
    private readonly BytePlane _near;
    private readonly (double R, double G, double B)[] _colours;

    private FlatShares(RgbaRaster art, SrgbCodes codes, ImmutableArray<FlatColour> colours, BytePlane labels)
    {
        (_art, _codes) = (art, codes);
        _colours = [.. colours.Select(c => (Code(c.Linear.R), Code(c.Linear.G), Code(c.Linear.B)))];
        _labels = Certain(labels);
        _near = Near(_labels);
    }

    /// <summary>At the rim of an area only pixels of its very colour are sure to be whole.</summary>
    private BytePlane Certain(BytePlane labels)
    {
        var sure = new BytePlane(labels.Width, labels.Height);
        RowLoop.Run(
            labels.Height,
            labels.Width * 2,
            y =>
            {
                labels.Row(y).CopyTo(sure.Row(y));
                var row = sure.Row(y);
                for (var x = 0; x < row.Length; x++)
                    if (row[x] is var label and not FlatRegions.None && AtRim(labels, x, y))
                        if (Length(_colours[label], Codes(x, y)) > Whole)
                            row[x] = FlatRegions.None;
            }
        );
        return sure;
    }

    private static bool AtRim(BytePlane labels, int x, int y)
    {
        var label = labels[x, y];
        for (var ny = Math.Max(0, y - 1); ny <= Math.Min(labels.Height - 1, y + 1); ny++)
        for (var nx = Math.Max(0, x - 1); nx <= Math.Min(labels.Width - 1, x + 1); nx++)
            if (labels[nx, ny] != label)
                return true;
        return false;
    }

    public static ImmutableArray<BytePlane> Of(
        RgbaRaster art,
        SrgbCodes codes,
        ImmutableArray<FlatColour> colours,
        BytePlane labels
    )
    {
        var unmixing = new FlatShares(art, codes, colours, labels);
        var shares = colours.Select(_ => new BytePlane(art.Width, art.Height)).ToImmutableArray();
        RowLoop.Run(art.Height, art.Width * 2, y => unmixing.Row(y, shares));
        return shares;
    }

    private void Row(int y, ImmutableArray<BytePlane> shares)
    {
        var labels = _labels.Row(y);
        var near = _near.Row(y);
        for (var x = near.IndexOfAnyExcept((byte)0); x >= 0 && x < near.Length; x++)
        {
            if (near[x] == 0)
                continue;
            if (labels[x] != FlatRegions.None)
                shares[labels[x]][x, y] = 255;
            else
                Split(x, y, shares);
        }
    }

    private void Split(int x, int y, ImmutableArray<BytePlane> shares)
    {
        var alpha = _art.Row(y)[4 * x + 3];
        if (alpha < ArtSizing.FaintestAlpha)
            return;
        Span<int> flats = stackalloc int[FlatCandidates.Most];
        var (count, clear, beyond) = Around(x, y, flats);
        var own = Codes(x, y);
        if (clear && alpha < 64000)
        {
            var flat = Nearest(flats[..count], own, out var off);
            if (off < Unexplained)
                shares[flat][x, y] = (byte)Math.Round(alpha / 257.0);
            return;
        }
        var best = (One: -1, Other: -1, Share: 0.0, Off: Unexplained);
        for (var i = 0; i < count; i++)
        {
            for (var j = i + 1; j < count; j++)
                Try(flats[i], flats[j], _colours[flats[j]]);
            if (beyond is { } painted)
                Try(flats[i], -1, painted);
        }
        if (best.One < 0)
            return;
        var share =
            best.Share < Sure ? 0
            : best.Share > 1 - Sure ? 255
            : (byte)Math.Round(255 * best.Share);
        shares[best.One][x, y] = (byte)share;
        if (best.Other >= 0)
            shares[best.Other][x, y] = (byte)(255 - share);

        void Try(int one, int other, (double R, double G, double B) to)
        {
            var from = _colours[one];
            var (r, g, b) = (from.R - to.R, from.G - to.G, from.B - to.B);
            var length = r * r + g * g + b * b;
            if (length < NoEdge * NoEdge)
                return;
            var t = Math.Clamp(((own.R - to.R) * r + (own.G - to.G) * g + (own.B - to.B) * b) / length, 0, 1);
            var off = Length((to.R + t * r, to.G + t * g, to.B + t * b), own);
            if (off < best.Off)
                best = (one, other, t, off);
        }
    }

    /// <summary>Flat colours within the reach of an edge, whether the cloth is, and the nearest painted colour past the edge.</summary>
    private (int Count, bool Clear, (double R, double G, double B)? Beyond) Around(int x, int y, Span<int> flats)
    {
        var (seen, count, clear) = (0, 0, false);
        var (nearest, at) = (int.MaxValue, (X: -1, Y: -1));
        for (var ny = Math.Max(0, y - Beyond); ny <= Math.Min(_art.Height - 1, y + Beyond); ny++)
        {
            var row = _art.Row(ny);
            for (var nx = Math.Max(0, x - Beyond); nx <= Math.Min(_art.Width - 1, x + Beyond); nx++)
            {
                var distance = (nx - x) * (nx - x) + (ny - y) * (ny - y);
                var label = _labels[nx, ny];
                if (label == FlatRegions.None)
                {
                    clear |= row[4 * nx + 3] < ArtSizing.FaintestAlpha;
                    if (_near[nx, ny] == 0 && row[4 * nx + 3] >= 64000 && distance < nearest)
                        (nearest, at) = (distance, (nx, ny));
                }
                else if (distance <= 2 * (Edge + 1) * (Edge + 1) && (seen >> label & 1) == 0)
                {
                    seen |= 1 << label;
                    flats[count++] = label;
                }
            }
        }
        return (count, clear, at.X >= 0 ? Codes(at.X, at.Y) : Farthest(x, y, flats[..count]));
    }

    /// <summary>In a gap too narrow for a pure pixel: the colour around that is farthest from the flat ones.</summary>
    private (double, double, double)? Farthest(int x, int y, ReadOnlySpan<int> flats)
    {
        ((double, double, double)? found, var most) = (null, 0.0);
        for (var ny = Math.Max(0, y - Edge); ny <= Math.Min(_art.Height - 1, y + Edge); ny++)
        for (var nx = Math.Max(0, x - Edge); nx <= Math.Min(_art.Width - 1, x + Edge); nx++)
        {
            if (_labels[nx, ny] != FlatRegions.None || _art.Row(ny)[4 * nx + 3] < 64000)
                continue;
            var codes = Codes(nx, ny);
            Nearest(flats, codes, out var off);
            if (off > most)
                (found, most) = (codes, off);
        }
        return found;
    }

    private int Nearest(ReadOnlySpan<int> flats, (double R, double G, double B) own, out double off)
    {
        (var best, off) = (0, double.PositiveInfinity);
        foreach (var flat in flats)
        {
            var distance = Length(_colours[flat], own);
            if (distance < off)
                (best, off) = (flat, distance);
        }
        return best;
    }

    /// <summary>1 within the reach of an edge from a pure pixel, 2 on one.</summary>
    private static BytePlane Near(BytePlane labels)
    {
        var near = new BytePlane(labels.Width, labels.Height);
        RowLoop.Run(
            labels.Height,
            labels.Width * 3,
            y =>
            {
                var to = near.Row(y);
                for (var ny = Math.Max(0, y - Edge); ny <= Math.Min(labels.Height - 1, y + Edge); ny++)
                {
                    var row = labels.Row(ny);
                    for (var x = 0; x < row.Length; )
                    {
                        var start = row[x..].IndexOfAnyExcept(FlatRegions.None);
                        if (start < 0)
                            break;
                        var from = x + start;
                        var length = row[from..].IndexOf(FlatRegions.None);
                        x = length < 0 ? row.Length : from + length;
                        to[Math.Max(0, from - Edge)..Math.Min(to.Length, x + Edge)].Fill(1);
                    }
                }
            }
        );
        return near;
    }

    private (double R, double G, double B) Codes(int x, int y)
    {
        var p = _art.Row(y).Slice(4 * x, 3);
        return (_codes[p[0]], _codes[p[1]], _codes[p[2]]);
    }

    private static double Code(double linear) => 255 * Srgb.Encode(Math.Clamp(linear, 0, 1));

    private static double Length((double R, double G, double B) a, (double R, double G, double B) b)
    {
        var (r, g, bl) = (a.R - b.R, a.G - b.G, a.B - b.B);
        return Math.Sqrt(r * r + g * g + bl * bl);
    }
}
