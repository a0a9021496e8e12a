using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Growth of one plate's ink at its edges: less on bare cloth that drinks, more on a sealed base, more with a heavy
/// deposit, and 1.2 times as much along the squeegee's way as across it ([PHYSICS] 1.15).
/// </summary>
internal sealed class InkSpread
{
    /// <summary>Growth along the squeegee's way over growth across it; 1.1 to 1.3 (a proposal).</summary>
    private const double Anisotropy = 1.2;

    /// <summary>How long the raggedness of an edge is, um.</summary>
    private const double GrainUm = 150;

    private readonly InkGrowth _onCloth;
    private readonly InkGrowth? _onBase;
    private readonly BitPlane _smearOnCloth;
    private readonly BitPlane _smearOnBase;

    public InkSpread(
        double growthUm,
        double growthOnBaseUm,
        double noiseUm,
        PictureScale scale,
        NoiseMasks noise,
        bool overBase,
        int plate
    )
    {
        var seed = (ulong)plate;
        _onCloth = new(Across(growthUm) / scale.PixelUm, noiseUm / scale.PixelUm, noise, seed);
        _onBase = overBase ? new(Across(growthOnBaseUm) / scale.PixelUm, noiseUm / scale.PixelUm, noise, seed) : null;
        _smearOnCloth = noise.Mask(Smear(growthUm) / scale.PixelUm);
        _smearOnBase = noise.Mask(Smear(growthOnBaseUm) / scale.PixelUm);
        HaloRows = Math.Max(_onCloth.HaloRows, _onBase?.HaloRows ?? 0) + 1;
    }

    /// <summary>Rows of surviving ink needed above and below.</summary>
    public int HaloRows { get; }

    public static NoiseMasks Noise(ulong seed, double pixelUm) => new(seed ^ 0x6707_7A11, GrainUm / pixelUm / 2.5);

    /// <summary>Growth of the range's ends: a heavier film has more to give at its edge (a proposal, +-30 %).</summary>
    public static double Factor(Deposit deposit) =>
        deposit switch
        {
            Deposit.Light => 0.7,
            Deposit.Heavy => 1.3,
            _ => 1,
        };

    // The mean over all edge directions of an extra vertical smear s is s x mean |sin| = 2 s / pi, so that across + smear
    // keep the wanted mean: g = across (1 + (Anisotropy - 1) 2 / pi).
    private static double Across(double growthUm) => growthUm / (1 + (Anisotropy - 1) * 2 / Math.PI);

    private static double Smear(double growthUm) => Across(growthUm) * (Anisotropy - 1);

    /// <summary>
    /// Printed ink. Planes are centred on the target: a higher one has as many rows more above as below.
    /// </summary>
    /// <param name="word">Word of the print at the target's second word.</param>
    /// <param name="underBase">Printed base below, same rows as the target; null = none.</param>
    /// <param name="grown">Scratch, two rows higher than the target.</param>
    /// <param name="grownOnBase">Scratch, likewise.</param>
    /// <param name="rows">Scratch.</param>
    public void Spread(
        BitPlane kept,
        BitPlane? underBase,
        BitPlane target,
        BitPlane grown,
        BitPlane grownOnBase,
        DiscRows rows,
        int top,
        int word
    )
    {
        var above = (kept.Height - target.Height) / 2 - 1;
        var onSealed = underBase is null ? null : _onBase;
        var largest =
            onSealed is not null && onSealed.Largest.SquaredRadius > _onCloth.Largest.SquaredRadius
                ? onSealed.Largest
                : _onCloth.Largest;
        rows.LoadForDilation(kept, above, grown.Height, largest);
        _onCloth.Grow(kept, rows, grown, above, top - 1, word);
        onSealed?.Grow(kept, rows, grownOnBase, above, top - 1, word);
        for (var y = 0; y < target.Height; y++)
        {
            var row = target.Row(y);
            Smeared(grown, y, _smearOnCloth, y + top, word, row);
            if (underBase is null || _onBase is null)
                continue;
            var onBase = grown.Row(y);
            Smeared(grownOnBase, y, _smearOnBase, y + top, word, onBase);
            var white = underBase.Row(y);
            for (var i = 0; i < row.Length; i++)
                row[i] = (row[i] & ~white[i]) | (onBase[i] & white[i]);
        }
    }

    private static void Smeared(BitPlane grown, int y, BitPlane mask, int printY, int word, Span<ulong> row)
    {
        var above = grown.Row(y);
        var here = grown.Row(y + 1);
        var below = grown.Row(y + 2);
        var ragged = mask.Row(((printY % NoiseMasks.Height) + NoiseMasks.Height) % NoiseMasks.Height);
        for (var i = 0; i < row.Length; i++)
            row[i] = here[i] | ((above[i] | below[i]) & ragged[(i + word) & (NoiseMasks.Width / 64 - 1)]);
    }
}
