using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// What a film pixel of a code shows, split in two because light spreads sideways in cloth but hardly in ink. The part
/// that the inks send back by themselves (measured over black) simply adds. The part that passed through cloth is the
/// product of going in at one place and coming out at another, so its square root is what both places contribute:
/// R = surface + s (PSF * s). Averaged over a wide halftone this is Yule-Nielsen with n = 2 for transparent ink on pale
/// cloth and n = 1 for opaque ink or black cloth; the spread of <see cref="OpticalSpread"/> gives all between
/// ([ARNEY-1995], [PHYSICS] 1.16).
/// </summary>
internal sealed class CodeTable : CodeColours
{
    /// <summary>Fixed point: 65536 = a perfect diffuser.</summary>
    public const int One = 1 << 16;

    /// <summary>Fixed point of heights: 64 = 1 um.</summary>
    public const int HeightOne = 64;

    private readonly InkedCloth _inks;
    private readonly ViewingLight _light;
    private readonly double[] _bareShares;

    private CodeTable(InkedCloth inks, ViewingLight light, double[] bareShares)
        : base(inks.Runs.Length, ThicknessSpread.Classes * (bareShares.Length + 1)) =>
        (_inks, _light, _bareShares, HasHeights) = (
            inks,
            light,
            bareShares,
            Enumerable.Range(0, inks.Runs.Length).Any(i => inks.HeightUm(1UL << i) > 0)
        );

    /// <summary>The levels of bare fibre that codes of these runs can have, smallest first.</summary>
    public ReadOnlySpan<double> BareShares => _bareShares;

    public static CodeTable Of(InkedCloth inks, ViewingLight light) => new(inks, light, Levels(inks));

    private static double[] Levels(InkedCloth inks)
    {
        var shares = new SortedSet<double>();
        for (var i = 0; i < inks.Runs.Length; i++)
        for (var j = i; j < inks.Runs.Length; j++)
            shares.Add(Math.Round(inks.BareFibreShare(1UL << i | 1UL << j), 6));
        return [.. shares.Where(s => s > 0)];
    }

    /// <summary>Some pass leaves an edge.</summary>
    public bool HasHeights { get; }

    /// <summary>What one film pixel of unprinted cloth adds.</summary>
    public int[] ClothRow()
    {
        var rows = new int[Classes * Lanes];
        Fill(0, rows);
        return rows[..Lanes];
    }

    protected override void Fill(int code, Span<int> rows)
    {
        var bareShare = code == 0 ? 1 : _inks.BareFibreShare((ulong)code);
        Span<Xyz> inked = stackalloc Xyz[ThicknessSpread.Classes];
        Span<Xyz> bare = stackalloc Xyz[ThicknessSpread.Classes];
        var through = new Xyz(0, 0, 0);
        for (var k = 0; k < ThicknessSpread.Classes; k++)
        {
            (inked[k], var throughInk) = At(code, new(k, false));
            (bare[k], var throughFibre) = At(code, new(k, true));
            through += (1 - bareShare) / ThicknessSpread.Classes * throughInk;
            through += bareShare / ThicknessSpread.Classes * throughFibre;
        }

        var height = (int)Math.Round(_inks.HeightUm((ulong)code) * HeightOne);
        // One s for the whole code: the mottle of thick and thin ink stays linear, so a solid's mean is exactly the mean
        // of its classes.
        var (sx, sy, sz) = (Root(through.X), Root(through.Y), Root(through.Z));
        for (var c = 0; c < Classes; c++)
        {
            var bucket = c / ThicknessSpread.Classes;
            var isBare = bucket > 0 && bareShare >= _bareShares[bucket - 1] - 1e-6;
            var colour = (isBare ? bare : inked)[c % ThicknessSpread.Classes];
            var row = rows.Slice(c * Lanes, Lanes);
            row[0] = Rest(colour.X, sx);
            row[1] = Rest(colour.Y, sy);
            row[2] = Rest(colour.Z, sz);
            row[3] = height;
            row[4] = sx;
            row[5] = sy;
            row[6] = sz;
            row[7] = code == 0 ? 0 : 1;
        }
    }

    /// <summary>Colour at a point of the knit, and the part of it that passed through cloth. Bare cloth is all cloth.</summary>
    private (Xyz Colour, Xyz Through) At(int code, ClothPoint point)
    {
        if (code == 0)
        {
            var cloth = Relative(_inks.Xyz(0, point, _light));
            return (cloth, cloth);
        }
        var (seen, overBlack) = _inks.Both((ulong)code, point);
        var colour = Relative(Tristimulus.Of(seen, _light));
        return (colour, colour + -1 * Relative(Tristimulus.Of(overBlack, _light)));
    }

    private static Xyz Relative(Xyz xyz) => 0.01 * xyz;

    private static int Root(double through) => (int)Math.Round(Math.Sqrt(Math.Max(0, through)) * One);

    private static int Rest(double colour, int root) =>
        (int)Math.Round((colour - (double)root / One * root / One) * One);
}
