using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>
/// How far folds move a print sideways. Seen from above, cloth that slopes is foreshortened: sqrt(1 + slope^2) mm of cloth lie
/// on one mm of picture. Light tells a slope only along its own direction and only roughly: a fold's light of 1 + f is taken for
/// a slope of <see cref="SlopePerLight"/> x f across the fold (a lamp at about 45 degrees with as much light from around),
/// never more than <see cref="MostSlope"/>. What adds up over more than a hand is left out, since the tape already has it, and no point
/// moves further than <see cref="MostMm"/>: beyond that the picture holds no evidence.
/// </summary>
public sealed class PhotoFolds
{
    public const double SlopePerLight = 2;
    public const double MostSlope = 0.6;
    public const double MostMm = 4;

    /// <summary>
    /// Luminance of the sheen of loose fibres, from memory: about two percent. On dark cloth it is half of what is seen and comes
    /// and goes faster than a slope, so as much less of a fold is believed.
    /// </summary>
    public const double Sheen = 0.02;

    // Directions of folds are those of a neighbourhood of this sigma; threads and noise have none.
    private const double DirectionMm = 8;

    private readonly PhotoGrid _grid;
    private readonly float[] _across;
    private readonly float[] _down;

    private PhotoFolds(PhotoGrid grid, float[] across, float[] down) => (_grid, _across, _down) = (grid, across, down);

    /// <summary>Furthest that any point of the cloth moves, mm.</summary>
    public double FurthestMm { get; private init; }

    /// <summary>Millimetres of cloth to add to the place in the picture, along the picture's own axes.</summary>
    public (double X, double Y) At(double px, double py) => (_grid.At(_across, px, py), _grid.At(_down, px, py));

    public static PhotoFolds Of(PhotoLight light)
    {
        var (grid, fold) = (light.Grid, light.Fold);
        var (w, h) = (grid.Width, grid.Height);
        var body = CieLab.ToXyz(light.Ground, ViewingLight.D50).Y / 100;
        var slopePerLight = SlopePerLight * body / (body + Sheen);
        var smooth = grid.Blurred(fold, PhotoLight.ThreadMm);
        float[] xx = new float[w * h],
            xy = new float[w * h],
            yy = new float[w * h];
        for (var y = 1; y < h - 1; y++)
        {
            for (var x = 1; x < w - 1; x++)
            {
                var i = y * w + x;
                // Edges of the garment are no folds.
                if (
                    Math.Min(
                        Math.Min(grid.Weight[i - 1], grid.Weight[i + 1]),
                        Math.Min(grid.Weight[i - w], grid.Weight[i + w])
                    ) < 0.99f
                )
                    continue;
                var (gx, gy) = (smooth[i + 1] - smooth[i - 1], smooth[i + w] - smooth[i - w]);
                (xx[i], xy[i], yy[i]) = (gx * gx, gx * gy, gy * gy);
            }
        }
        (xx, xy, yy) = (grid.Blurred(xx, DirectionMm), grid.Blurred(xy, DirectionMm), grid.Blurred(yy, DirectionMm));
        float[] across = new float[w * h],
            down = new float[w * h];
        for (var i = 0; i < across.Length; i++)
        {
            if (grid.Weight[i] < 0.99f)
                continue;
            // The larger eigenvector of the structure tensor points across the fold; its lead over the other says how sure that is.
            var (sum, difference) = (xx[i] + yy[i], xx[i] - yy[i]);
            var lead = Math.Sqrt(difference * difference + 4.0 * xy[i] * xy[i]);
            if (sum <= 1e-9f || lead <= 1e-9)
                continue;
            var slope = Math.Min(MostSlope, slopePerLight * Math.Abs(smooth[i])) * (lead / sum);
            var extra = (Math.Sqrt(1 + slope * slope) - 1) / grid.CellsPerMm;
            var alongX = 0.5 * (1 + difference / lead);
            (across[i], down[i]) = ((float)(extra * alongX), (float)(extra * (1 - alongX)));
        }
        for (var y = 0; y < h; y++)
        for (var x = 1; x < w; x++)
            across[y * w + x] += across[y * w + x - 1];
        for (var i = w; i < down.Length; i++)
            down[i] += down[i - w];
        across = Local(grid, across);
        down = Local(grid, down);
        var furthest = 0.0;
        for (var i = 0; i < across.Length; i++)
            if (grid.Weight[i] > 0.99f)
                furthest = Math.Max(furthest, Math.Sqrt(across[i] * across[i] + down[i] * down[i]));
        return new(grid, across, down) { FurthestMm = furthest };
    }

    /// <summary>Without what adds up over more than a hand, smooth from row to row, and bounded.</summary>
    private static float[] Local(PhotoGrid grid, float[] sums)
    {
        var smooth = grid.Blurred(sums, 2 * PhotoLight.ThreadMm);
        var broad = grid.Broad(sums, PhotoLight.BroadMm);
        // Each direction has its share of the limit.
        var most = (float)(MostMm / Math.Sqrt(2));
        var local = new float[sums.Length];
        for (var i = 0; i < local.Length; i++)
            local[i] = Math.Clamp(smooth[i] - broad[i], -most, most);
        return local;
    }
}
