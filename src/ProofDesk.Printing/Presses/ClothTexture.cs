using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// What makes unprinted cloth look like cloth: light and shade of the stitches, and for heather the streaks of two
/// fibres, 1 to 5 mm long along the course ([PHYSICS] 1.7). Both have the mean 1, so that means of solids stay exact; the
/// streaks tint only light that came through the cloth.
/// </summary>
internal sealed class ClothTexture
{
    /// <summary>Light and shade of bare cloth and of cloth under ink, relative (a drawing choice).</summary>
    private const float ShadeOfCloth = 0.10f;
    private const float ShadeOfInk = 0.045f;

    private const int Levels = 64;
    private const int StreakCells = 512;

    private readonly KnitTile _knit;
    private readonly byte[]? _streaks;
    private readonly float[][] _tints = [new float[Levels], new float[Levels], new float[Levels]];

    public ClothTexture(Ground ground, KnitTile knit, PictureScale scale, ViewingLight light, ulong seed)
    {
        _knit = knit;
        if (ground.Colour.HeatherFleck is not { } fleck)
            return;
        _streaks = Streaks(scale, seed ^ 0x4EA7);
        FillTints(fleck, light);
    }

    public bool IsHeather => _streaks is not null;

    /// <summary>Shade of cells from (x, y) on, given how much ink each carries (0..1).</summary>
    public void Shade(int x, int y, ReadOnlySpan<float> ink, Span<float> shade)
    {
        for (var i = 0; i < shade.Length; )
        {
            var (tileX, tileY, run) = _knit.At(x + i, y);
            var relief = _knit.Relief.AsSpan(tileY * _knit.Classes.CellsAcross + tileX);
            var end = Math.Min(shade.Length, i + run);
            for (var k = 0; i < end; i++, k++)
                shade[i] = 1 + relief[k] * (ShadeOfCloth + ink[i] * (ShadeOfInk - ShadeOfCloth));
        }
    }

    /// <summary>Tint of one tristimulus value (0 = X) of cells from (x, y) on.</summary>
    public void Tint(int channel, int x, int y, Span<float> tint)
    {
        if (_streaks is null)
        {
            tint.Fill(1);
            return;
        }
        var tints = _tints[channel];
        // Rows of the streak tile are turned from one repeat to the next, so that repeats do not show.
        for (var i = 0; i < tint.Length; i++)
        {
            var block = (x + i) >> 9;
            var turn = (int)(SeededNoise.Hash(_knit.Seed, block, y >> 9) & 511);
            tint[i] = tints[_streaks[((y + turn) & 511) * StreakCells + ((x + i + (turn * 7)) & 511)]];
        }
    }

    /// <summary>Level of dark fibre for each cell of a tile, equal areas, mostly calm with darker streaks.</summary>
    private static byte[] Streaks(PictureScale scale, ulong seed)
    {
        var noise = new float[StreakCells * StreakCells];
        for (var i = 0; i < noise.Length; i++)
            noise[i] = (float)SeededNoise.Uniform(seed, i & 511, i >> 9);
        // Long and short fibres: running means of 3.5 mm and 1.2 mm along the course, one yarn high.
        var along = Row(noise, (int)Math.Round(3.5 / scale.CellMm));
        var shorter = Row(noise, (int)Math.Round(1.2 / scale.CellMm));
        var value = new float[noise.Length];
        for (var y = 0; y < StreakCells; y++)
        for (var x = 0; x < StreakCells; x++)
        {
            var i = y * StreakCells + x;
            var above = ((y + 1) & 511) * StreakCells + x;
            value[i] =
                along[i]
                + 0.7f * along[above]
                + 0.5f * shorter[((y * 7 + 3) & 511) * StreakCells + x]
                + 0.1f * noise[i];
        }
        var order = new int[value.Length];
        for (var i = 0; i < order.Length; i++)
            order[i] = i;
        var keys = (float[])value.Clone();
        Array.Sort(keys, order);
        var levels = new byte[value.Length];
        for (var rank = 0; rank < order.Length; rank++)
            levels[order[rank]] = (byte)(rank * (long)Levels / order.Length);
        return levels;
    }

    private static float[] Row(float[] source, int length)
    {
        var result = new float[source.Length];
        for (var y = 0; y < StreakCells; y++)
        {
            var row = source.AsSpan(y * StreakCells, StreakCells);
            // Sums start anew in each row and are short, so rounding stays the same on every machine.
            float sum = 0;
            for (var i = 0; i < length; i++)
                sum += row[i];
            for (var x = 0; x < StreakCells; x++)
            {
                result[y * StreakCells + x] = (sum / length - 0.5f) * MathF.Sqrt(length);
                sum += row[(x + length) & 511] - row[x];
            }
        }
        return result;
    }

    /// <summary>
    /// Local share of dark fibre from near none to about twice the mean (a Gamma-like spread), colour by Stearns and Noechel 1944,
    /// scaled so that the mean over all levels is the cloth's own colour.
    /// </summary>
    private void FillTints(HeatherFleck fleck, ViewingLight light)
    {
        for (var level = 0; level < Levels; level++)
        {
            var rank = (level + 0.5) / Levels;
            // Exponential-like quantile with mean 1: many calm places, few dark streaks.
            var relative = 0.45 - 0.55 * Math.Log(1 - rank);
            var share = Math.Clamp(fleck.DarkShare * relative, 0, 1);
            var xyz = Tristimulus.Of(StearnsNoechel.Blend(fleck.PaleFibre, fleck.DarkFibre, share), light);
            (_tints[0][level], _tints[1][level], _tints[2][level]) = ((float)xyz.X, (float)xyz.Y, (float)xyz.Z);
        }
        foreach (var tint in _tints)
        {
            var mean = tint.Average();
            for (var i = 0; i < tint.Length; i++)
                tint[i] /= mean;
        }
    }
}
