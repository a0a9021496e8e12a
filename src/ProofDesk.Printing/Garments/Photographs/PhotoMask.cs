using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>What of the marked area is the garment.</summary>
public static class PhotoMask
{
    /// <summary>Usual tolerance: a fold's inside is tinted by the cloth around it, a second lamp tints one side.</summary>
    public const double UsualTolerance = 20;

    // Light of the same cloth differs by this factor before it counts as another colour; each doubling after that costs 20.
    private const double LightFreely = 3;
    private const double PerDoubling = 20;

    public static BytePlane Area(int width, int height, PhotoMarks marks)
    {
        var mask = new BytePlane(width, height);
        PolygonFill.Fill(
            mask,
            [
                [.. marks.Area.Select(p => (p.X, p.Y))],
            ]
        );
        return mask;
    }

    /// <summary>The part of an area that has the ground's colour, shadows and lit ridges included.</summary>
    public static BytePlane OfColour(RgbPicture photo, BytePlane area, Lab ground, double tolerance, double pixelsPerMm)
    {
        var (w, h) = (photo.Width, photo.Height);
        var linear = PhotoGrid.Linear();
        var planes = new float[3][];
        for (var c = 0; c < 3; c++)
        {
            var plane = new float[w * h];
            for (var i = 0; i < plane.Length; i++)
                plane[i] = linear[photo.Pixels[3 * i + c]];
            // One thread, or one grain of noise, decides nothing.
            planes[c] = GaussianBlur.Blur(plane, w, h, Math.Max(0.7, 0.7 * pixelsPerMm));
        }
        // So blurred, neighbours hardly differ: every second pixel of every second row is asked.
        var alike = new float[w * h];
        RowLoop.Run(
            (h + 1) / 2,
            w * 8,
            half =>
            {
                var y = 2 * half;
                for (var x = 0; x < w; x += 2)
                {
                    var i = y * w + x;
                    if (area.Pixels[i] == 0)
                        continue;
                    var value = Distance(new(planes[0][i], planes[1][i], planes[2][i]), ground) <= tolerance ? 255 : 0;
                    for (var yy = y; yy < Math.Min(h, y + 2); yy++)
                    for (var xx = x; xx < Math.Min(w, x + 2); xx++)
                        alike[yy * w + xx] = value;
                }
            }
        );
        // Single specks join what is around them; the edge is soft over about a pixel.
        var smooth = GaussianBlur.Blur(alike, w, h, Math.Max(1, 1.2 * pixelsPerMm));
        var mask = new BytePlane(w, h);
        for (var i = 0; i < smooth.Length; i++)
            mask.Pixels[i] = (byte)
                Math.Min(area.Pixels[i], Math.Clamp((int)((smooth[i] - 127.5f) * 3 + 127.5f), 0, 255));
        return mask;
    }

    /// <summary>Difference in a* and b* once both have the ground's light, and what the light itself differs beyond that of folds.</summary>
    internal static double Distance(LinearRgb colour, Lab ground)
    {
        var wanted = Srgb.FromLab(ground);
        var y = Math.Max(1e-4, PhotoGrid.Luminance(colour.R, colour.G, colour.B));
        var factor = y / Math.Max(1e-4, PhotoGrid.Luminance(wanted.R, wanted.G, wanted.B));
        var lit = Srgb.ToLab(new(colour.R / factor, colour.G / factor, colour.B / factor));
        var doublings = Math.Max(0, Math.Abs(Math.Log2(factor)) - Math.Log2(LightFreely));
        // The noise of deep shadow has much chroma once it is lifted to the ground's light.
        var trust = Math.Min(1, factor * 2);
        return trust * Math.Sqrt((lit.A - ground.A) * (lit.A - ground.A) + (lit.B - ground.B) * (lit.B - ground.B))
            + PerDoubling * doublings;
    }
}
