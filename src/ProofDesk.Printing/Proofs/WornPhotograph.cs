using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>A print laid on a photograph: colour and cover at mm from the collar seam, x to the right as seen, y down.</summary>
internal delegate (LinearRgb Colour, double Cover) LaidPrint(double xMm, double yMm);

/// <summary>
/// The worn picture on a photograph. The cloth is the photograph, brought to the ground's colour by one factor a channel; a print is
/// multiplied by the light that lies on the cloth there and follows folds as far as the light tells them. The texture of the cloth
/// is left out under ink: the print's own picture has that of its own cloth. A strip below says that this is a photograph.
/// </summary>
internal static class WornPhotograph
{
    /// <summary>A channel of the cloth is made brighter by at most this: more would make noise of it.</summary>
    private const double MostGain = 4;

    private const byte Paper = 232;
    private const byte Pen = 40;

    public static RgbPicture Draw(
        Ground ground,
        GarmentSide side,
        GarmentSize size,
        GarmentPhotograph photograph,
        ImmutableArray<PlacedPrint> prints,
        ViewingLight light,
        double pixelsPerMm
    )
    {
        var pixels =
            photograph.Pixels
            ?? throw new ArgumentException(
                $"the photograph of {ground.Garment.Name} (SHA-256 {photograph.Sha256}) was not read; it belongs beside the garment file"
            );
        var reading = PhotoReading.Read(pixels, photograph.Marks);
        var scale = reading.Scale;
        var worn = prints
            .Where(p => p.Placement.Place.Side() == side)
            .Select(p => new WornPrint(
                p.Cloth,
                p.Placement,
                ground.Garment.Shape?.Anchor(p.Placement.Place)
                    ?? throw new ArgumentException($"{ground.Garment.Name} has no place {p.Placement.Place}"),
                size,
                scale.PixelsPerMm
            ))
            .ToArray();
        LaidPrint[] laid = [.. worn.Select(p => (LaidPrint)((x, y) => p.At(x - p.Seam.X, y - p.Seam.Y)))];
        var wanted = BareCloth.Linear(ground, light);
        return Lay(pixels, reading, wanted, laid, pixelsPerMm, Caption(ground.Colour));
    }

    public static string Caption(GarmentColour colour) =>
        colour.DataClass == DataClass.Photographed
            ? "On a photograph: colour of the cloth as photographed, not measured"
            : "On a photograph: cloth brought to the colour on file, its light as photographed";

    /// <param name="cloth">The ground in linear light as it is to be shown.</param>
    public static RgbPicture Lay(
        RgbPicture photo,
        PhotoReading reading,
        LinearRgb cloth,
        LaidPrint[] prints,
        double pixelsPerMm,
        string caption
    )
    {
        var (w, h) = (photo.Width, photo.Height);
        var linear = PhotoGrid.Linear();
        var seen = Srgb.FromLab(reading.Light.Ground);
        float[] gain = [Gain(cloth.R, seen.R), Gain(cloth.G, seen.G), Gain(cloth.B, seen.B)];
        var laid = new float[w * h * 3];
        var scale = reading.Scale;
        RowLoop.Run(
            h,
            w * 8,
            y =>
            {
                Span<float> rgb = stackalloc float[3];
                for (var x = 0; x < w; x++)
                {
                    var i = (y * w + x) * 3;
                    var share = reading.Cloth.Pixels[y * w + x] / 255f;
                    for (var c = 0; c < 3; c++)
                        rgb[c] = linear[photo.Pixels[i + c]] * (1 + share * (gain[c] - 1));
                    if (share > 0)
                        Print(rgb, share, x + 0.5, y + 0.5);
                    rgb.CopyTo(laid.AsSpan(i, 3));
                }
            }
        );
        var factor = Math.Max(1, (int)Math.Round(scale.PixelsPerMm / pixelsPerMm));
        return WithCaption(Reduced(laid, w, h, factor), scale.PixelsPerMm / factor, caption);

        void Print(Span<float> rgb, float share, double px, double py)
        {
            var (alongX, alongY) = reading.Folds.At(px, py);
            var (moreX, moreY) = scale.Along(alongX, alongY);
            var (xMm, yMm) = scale.ToMm(new(px, py));
            foreach (var print in prints)
            {
                var (colour, cover) = print(xMm + moreX, yMm + moreY);
                if (cover <= 0)
                    continue;
                var lit = (float)reading.Light.At(px, py);
                var take = (float)cover * share;
                rgb[0] += take * ((float)colour.R * lit - rgb[0]);
                rgb[1] += take * ((float)colour.G * lit - rgb[1]);
                rgb[2] += take * ((float)colour.B * lit - rgb[2]);
            }
        }
    }

    private static float Gain(double wanted, double seen) =>
        (float)Math.Clamp(wanted / Math.Max(1e-4, seen), 0, MostGain);

    /// <summary>Means of blocks in linear light, encoded.</summary>
    private static (byte[] Pixels, int Width, int Height) Reduced(float[] laid, int w, int h, int factor)
    {
        var (width, height) = (w / factor, h / factor);
        var pixels = new byte[width * height * 3];
        // 4096 steps of the square root of light: finer than one code value everywhere.
        var encode = new byte[4097];
        for (var i = 0; i <= 4096; i++)
            encode[i] = (byte)Math.Round(255 * Srgb.Encode(i / 4096.0 * (i / 4096.0)));
        RowLoop.Run(
            height,
            width * factor * factor,
            y =>
            {
                for (var x = 0; x < width; x++)
                for (var c = 0; c < 3; c++)
                {
                    var sum = 0f;
                    for (var yy = y * factor; yy < (y + 1) * factor; yy++)
                    for (var xx = x * factor; xx < (x + 1) * factor; xx++)
                        sum += laid[(yy * w + xx) * 3 + c];
                    var root = Math.Sqrt(Math.Clamp(sum / (factor * factor), 0, 1));
                    pixels[(y * width + x) * 3 + c] = encode[(int)(4096 * root + 0.5)];
                }
            }
        );
        return (pixels, width, height);
    }

    private static RgbPicture WithCaption(
        (byte[] Pixels, int Width, int Height) laid,
        double pixelsPerMm,
        string caption
    )
    {
        // Letters as large as the width lets them be, never larger than a fortieth of it.
        var letters = Math.Min(laid.Width / 40.0, 0.94 * laid.Width / FilmPen.TextWidth(caption, 1));
        var strip = (int)Math.Ceiling(letters * 2.2);
        var picture = new RgbPicture(laid.Width, laid.Height + strip, pixelsPerMm);
        laid.Pixels.CopyTo(picture.Pixels, 0);
        picture.Pixels.AsSpan(laid.Pixels.Length).Fill(Paper);
        // A pen that measures in pixels, four times as fine: letters of a few pixels need grey edges.
        const int fine = 4;
        var marks = new BitPlane(laid.Width * fine, strip * fine);
        new FilmPen(marks, 25.4 * fine, 25.4 * fine).Text(0.03 * laid.Width, 0.5 * letters, letters, caption);
        for (var y = 0; y < strip; y++)
        {
            var row = picture.Row(laid.Height + y);
            for (var x = 0; x < laid.Width; x++)
            {
                var ink = 0;
                for (var yy = y * fine; yy < (y + 1) * fine; yy++)
                for (var xx = x * fine; xx < (x + 1) * fine; xx++)
                    ink += marks[xx, yy] ? 1 : 0;
                row.Slice(3 * x, 3).Fill((byte)(Paper - (Paper - Pen) * ink / (fine * fine)));
            }
        }
        return picture;
    }
}
