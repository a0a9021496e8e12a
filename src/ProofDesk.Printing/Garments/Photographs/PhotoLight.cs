using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>
/// The light that lies on a photographed cloth, told apart by scale. Finer than <see cref="ThreadMm"/> is texture: threads, flecks,
/// camera noise. Between that and <see cref="BroadMm"/> are folds. Broader is the lamp. Luminance over a ground of one colour is light
/// times reflectance, so luminance divided by the ground's is the light, whatever the cloth; a print gets that light and not
/// the texture, which is another cloth's.
/// </summary>
public sealed class PhotoLight
{
    /// <summary>Sigma of what is texture, mm: about four wales of a jersey, a third of the narrowest fold one draws.</summary>
    public const double ThreadMm = 2.5;

    /// <summary>Sigma of the broad mean, mm: folds repeat within a hand's breadth.</summary>
    public const double BroadMm = 60;

    /// <summary>A cell within this of its surroundings (natural logarithm of light) lies outside folds: five percent.</summary>
    public const double FlatWithin = 0.05;

    /// <summary>Light that a print is given, relative to flat cloth: beyond it a fold is black or a lamp's own mirror image.</summary>
    public const double LeastLight = 0.15;
    public const double MostLight = 2.2;

    private readonly PhotoGrid _grid;
    private readonly float[] _light;

    private PhotoLight(PhotoGrid grid, float[] light, float[] fold, Lab ground, double flatShare, double clamped)
    {
        (_grid, _light, Fold) = (grid, light, fold);
        (Ground, FlatShare, ClampedShare) = (ground, flatShare, clamped);
    }

    /// <summary>Median Lab (D50, display white = 100) of the cloth outside folds, as photographed.</summary>
    public Lab Ground { get; }

    /// <summary>Share of the cloth that lies outside folds, 0..1.</summary>
    public double FlatShare { get; }

    /// <summary>Share of the cloth whose light is beyond what a print is given, 0..1.</summary>
    public double ClampedShare { get; }

    /// <summary>Natural logarithm of the light against its broad mean, a cell of the grid each; 0 outside the cloth.</summary>
    internal float[] Fold { get; }
    internal PhotoGrid Grid => _grid;

    /// <summary>The light at a pixel of the photograph, 1 = as on the ground outside folds.</summary>
    public double At(double px, double py) => _grid.At(_light, px, py);

    /// <param name="cloth">255 where the garment is.</param>
    public static PhotoLight Of(RgbPicture photo, BytePlane cloth, double pixelsPerMm)
    {
        var grid = PhotoGrid.Of(photo, cloth, pixelsPerMm);
        var (r, g, b) = (
            grid.Blurred(grid.Red, ThreadMm),
            grid.Blurred(grid.Green, ThreadMm),
            grid.Blurred(grid.Blue, ThreadMm)
        );
        var weight = grid.Blurred(grid.Weight, ThreadMm);
        var n = weight.Length;
        var (luminance, inside) = (new float[n], new float[n]);
        for (var i = 0; i < n; i++)
        {
            inside[i] = weight[i] > 0.02f ? 1 : 0;
            if (inside[i] == 0)
                continue;
            luminance[i] = (float)Math.Max(1e-5, PhotoGrid.Luminance(r[i], g[i], b[i]) / weight[i]);
        }
        var (broadSum, broadWeight) = (
            grid.Broad(Product(luminance, grid.Weight), BroadMm),
            grid.Broad(grid.Weight, BroadMm)
        );
        var fold = new float[n];
        for (var i = 0; i < n; i++)
            if (inside[i] > 0 && broadWeight[i] > 1e-4f)
                fold[i] = (float)Math.Log(luminance[i] / Math.Max(1e-5, broadSum[i] / broadWeight[i]));
        var (ground, share) = GroundOf(grid, r, g, b, weight, fold);
        var light = new float[n];
        var y = Srgb.FromLab(ground) is var rgb ? Math.Max(1e-5, PhotoGrid.Luminance(rgb.R, rgb.G, rgb.B)) : 1;
        var (clamped, cells) = (0, 0);
        for (var i = 0; i < n; i++)
        {
            var relative = inside[i] > 0 ? luminance[i] / y : 1;
            light[i] = (float)Math.Clamp(relative, LeastLight, MostLight);
            if (grid.Weight[i] < 0.99f)
                continue;
            cells++;
            if (relative is < LeastLight or > MostLight)
                clamped++;
        }
        return new(grid, light, fold, ground, share, cells == 0 ? 0 : (double)clamped / cells);
    }

    /// <summary>The middle of the flattest cells: all within the limit, and at least the flattest third.</summary>
    private static (Lab Ground, double Share) GroundOf(
        PhotoGrid grid,
        float[] r,
        float[] g,
        float[] b,
        float[] weight,
        float[] fold
    )
    {
        var cells = Enumerable.Range(0, weight.Length).Where(i => weight[i] > 0.98f && grid.Weight[i] > 0.5f).ToArray();
        if (cells.Length == 0)
            cells = [.. Enumerable.Range(0, weight.Length).Where(i => weight[i] > 0.02f)];
        if (cells.Length == 0)
            return (default, 0);
        var unevenness = Array.ConvertAll(cells, i => Math.Abs(fold[i]));
        var sorted = unevenness.Order().ToArray();
        var within = Math.Max(FlatWithin, sorted[(sorted.Length - 1) / 3]);
        // Every so many cells: the middle of forty thousand is that of a million.
        var step = Math.Max(1, cells.Length / 40_000);
        var labs = cells
            .Where((_, k) => k % step == 0 && unevenness[k] <= within)
            .Select(i => Srgb.ToLab(new(r[i] / weight[i], g[i] / weight[i], b[i] / weight[i])))
            .ToArray();
        return (
            new(Median(labs, l => l.L), Median(labs, l => l.A), Median(labs, l => l.B)),
            (double)unevenness.Count(u => u <= FlatWithin) / cells.Length
        );
    }

    private static double Median(Lab[] labs, Func<Lab, double> of)
    {
        var sorted = labs.Select(of).Order().ToArray();
        return sorted[sorted.Length / 2];
    }

    private static float[] Product(float[] a, float[] b)
    {
        var product = new float[a.Length];
        for (var i = 0; i < a.Length; i++)
            product[i] = a[i] * b[i];
        return product;
    }
}
