using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Small dots and thin lines that the mesh does not hold. Below the mesh opening w nothing prints, from 2 d + w on
/// everything does ([PHYSICS] 1.13, common practice); between them the share that survives rises in even steps. What
/// contains a disc of the local limit stays as it is (opening by reconstruction); the limit varies from place to place.
/// </summary>
internal sealed class LostDots
{
    /// <summary>Steps of the ramp from w to 2 d + w.</summary>
    private const int Steps = 4;

    /// <summary>Size of a patch with one limit, um: about one dot, so that neighbours live or die on their own.</summary>
    private const double GrainUm = 120;

    private readonly Disc[] _cores;
    private readonly BitPlane[] _masks;
    private readonly Disc _regrow;

    private LostDots(Disc[] cores, BitPlane[] masks, Disc regrow) => (_cores, _masks, _regrow) = (cores, masks, regrow);

    /// <summary>Rows of film needed above and below.</summary>
    public int HaloRows => _cores[^1].Reach + _regrow.Reach;

    /// <summary>Rows of cores needed above and below.</summary>
    public int RegrowRows => _regrow.Reach;

    public static NoiseMasks Noise(ulong seed, double pixelUm) => new(seed ^ 0x105D075, GrainUm / pixelUm / 2.5);

    /// <param name="scale">Limits of this press relative to the mesh's, see <see cref="PressSettings.HeldFeatureScale"/>.</param>
    public static LostDots Of(Mesh mesh, double scale, double pixelUm, NoiseMasks noise)
    {
        var cores = new List<Disc>();
        var masks = new List<BitPlane>();
        BitPlane? before = null;
        for (var i = 0; i < Steps; i++)
        {
            var limitUm = scale * (mesh.OpeningUm + (mesh.SafeFeatureUm - mesh.OpeningUm) * (i + 0.5) / Steps);
            cores.Add(WithinDot(limitUm / pixelUm));
            var mask = noise.Mask((i + 1.0) / Steps);
            var ring = new BitPlane(mask.Width, mask.Height);
            for (var w = 0; w < ring.Words.Length; w++)
                ring.Words[w] = mask.Words[w] & ~(before?.Words[w] ?? 0);
            masks.Add(ring);
            before = mask;
        }
        // Two pixels more than the largest core give a surviving dot its corners back without reaching the next dot.
        return new([.. cores], [.. masks], Disc.Within(cores[^1].Reach + 2));
    }

    /// <summary>The largest digital disc not wider than a dot of this diameter: its pixels span 2 growth + 1.</summary>
    private static Disc WithinDot(double diameterPx)
    {
        var disc = Disc.Within(0);
        for (var next = disc.Next(); 2 * next.GrowthPx + 1 <= diameterPx; next = next.Next())
            disc = next;
        return disc;
    }

    /// <summary>
    /// What prints of <paramref name="film"/>. All planes are centred on the target: a higher one has as many rows more
    /// above as below.
    /// </summary>
    /// <param name="core">Scratch, at least the reach of what grows back higher on each side.</param>
    /// <param name="rows">Scratch.</param>
    /// <param name="top">Row of the print at the target's first row.</param>
    /// <param name="word">Word of the print at the target's second word.</param>
    /// <param name="turn">Turns the noise, so that plates do not lose the same dots.</param>
    public void Print(BitPlane film, BitPlane target, BitPlane core, DiscRows rows, int top, int word, int turn)
    {
        var above = (core.Height - target.Height) / 2;
        var filmAbove = (film.Height - target.Height) / 2;
        rows.LoadForErosion(film, filmAbove - above, core.Height, _cores[^1]);
        Span<ulong> eroded = new ulong[core.Stride];
        for (var y = 0; y < core.Height; y++)
        {
            var noise = Wrap(y + top - above + turn * 37);
            for (var k = 0; k < _cores.Length; k++)
            {
                rows.Eroded(y, _cores[k], eroded);
                Keep(eroded, _masks[k].Row(noise), core.Row(y), word + turn, k == 0);
            }
        }
        rows.LoadForDilation(core, above, target.Height, _regrow);
        for (var y = 0; y < target.Height; y++)
        {
            rows.Dilated(y, _regrow, target.Row(y));
            BitRows.And(target.Row(y), film.Row(y + filmAbove));
        }
    }

    private static void Keep(
        ReadOnlySpan<ulong> eroded,
        ReadOnlySpan<ulong> mask,
        Span<ulong> core,
        int turn,
        bool first
    )
    {
        for (var i = 0; i < core.Length; i++)
        {
            var kept = eroded[i] & mask[(i + turn) & (NoiseMasks.Width / 64 - 1)];
            core[i] = first ? kept : core[i] | kept;
        }
    }

    private static int Wrap(int y) => ((y % NoiseMasks.Height) + NoiseMasks.Height) % NoiseMasks.Height;
}
