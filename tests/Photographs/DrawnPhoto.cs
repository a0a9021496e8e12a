using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Tests.Photographs;

/// <summary>
/// A photograph of which everything is known: cloth of one colour on a brown table, a lamp from the left, two soft folds, threads and
/// grain. Not a picture of anything, but what can be read off one can be held against how it was made.
/// </summary>
internal sealed record DrawnPhoto(int Width, int Height, double PixelsPerMm)
{
    public static DrawnPhoto Usual { get; } = new(500, 560, 0.9);

    public Lab Cloth { get; init; } = new(58, -6, -22);

    /// <summary>Light of the lamp at the left and right edge of the cloth; 1 in its middle.</summary>
    public double LampFrom { get; init; } = 1.2;
    public double LampTo { get; init; } = 0.8;

    /// <summary>How much lighter and darker the two sides of a fold are.</summary>
    public double Fold { get; init; } = 0.25;

    /// <summary>Exposure: all light by this.</summary>
    public double Exposure { get; init; } = 1;

    /// <summary>Every cell of this many mm in a colour of its own instead of plain cloth; 0 = plain.</summary>
    public double PatternMm { get; init; }

    // The cloth: a rectangle with a margin of table around it.
    public double LeftMm => 0.1 * Width / PixelsPerMm;
    public double TopMm => 0.1 * Height / PixelsPerMm;
    public double RightMm => 0.9 * Width / PixelsPerMm;
    public double BottomMm => 0.9 * Height / PixelsPerMm;

    public double LightAt(double xMm, double yMm)
    {
        var across = (xMm - LeftMm) / (RightMm - LeftMm);
        var lamp = LampFrom + (LampTo - LampFrom) * across;
        return lamp
            * (1 + FoldAt(xMm, LeftMm + 0.3 * (RightMm - LeftMm)) + FoldAt(xMm, LeftMm + 0.7 * (RightMm - LeftMm)));
    }

    // Lit on one side, dark on the other, 30 mm wide.
    private double FoldAt(double xMm, double middleMm)
    {
        var t = (xMm - middleMm) / 15;
        return -Fold * t * Math.Exp((1 - t * t) / 2);
    }

    public RgbPicture Draw()
    {
        var picture = new RgbPicture(Width, Height, PixelsPerMm);
        var cloth = Srgb.FromLab(Cloth);
        LinearRgb table = new(0.16, 0.09, 0.05);
        for (var y = 0; y < Height; y++)
        {
            var row = picture.Row(y);
            for (var x = 0; x < Width; x++)
            {
                var (xMm, yMm) = ((x + 0.5) / PixelsPerMm, (y + 0.5) / PixelsPerMm);
                var on = xMm >= LeftMm && xMm <= RightMm && yMm >= TopMm && yMm <= BottomMm;
                var grain = 1 + 0.05 * Grain(x, y);
                var light = Exposure * grain * (on ? LightAt(xMm, yMm) : 1);
                var colour =
                    !on ? table
                    : PatternMm > 0 ? Patterned(xMm, yMm)
                    : cloth;
                row[3 * x] = Code(colour.R * light);
                row[3 * x + 1] = Code(colour.G * light);
                row[3 * x + 2] = Code(colour.B * light);
            }
        }
        return picture;
    }

    public PhotoPoint At(double xMm, double yMm) => new(xMm * PixelsPerMm, yMm * PixelsPerMm);

    /// <summary>What a careful person draws on it: both tapes along the edges, the area a little inside the table.</summary>
    public PhotoMarks Marks =>
        new(
            new(At(LeftMm, BottomMm), At(RightMm, BottomMm), RightMm - LeftMm),
            new(At(RightMm, TopMm), At(RightMm, BottomMm), BottomMm - TopMm),
            At((LeftMm + RightMm) / 2, TopMm),
            At((LeftMm + RightMm) / 2, BottomMm),
            [
                At(LeftMm - 8, TopMm - 8),
                At(RightMm + 8, TopMm - 8),
                At(RightMm + 8, BottomMm + 8),
                At(LeftMm - 8, BottomMm + 8),
            ],
            PhotoMask.UsualTolerance
        );

    /// <summary>The same in the words of forms and commands: percent of the picture.</summary>
    public Dictionary<string, string> Percent =>
        new()
        {
            ["tape"] = FormattableString.Invariant($"10 90; 90 90; {RightMm - LeftMm}"),
            ["check"] = FormattableString.Invariant($"90 10; 90 90; {BottomMm - TopMm}"),
            ["seam"] = "50 10",
            ["down"] = "50 90",
            ["area"] = "9 9; 91 91",
        };

    private LinearRgb Patterned(double xMm, double yMm)
    {
        var cell = (int)(xMm / PatternMm) * 7 + (int)(yMm / PatternMm) * 13;
        return Srgb.FromLab(new(30 + cell * 29 % 50, 55 * Math.Sin(cell), 55 * Math.Cos(cell * 1.7)));
    }

    private static double Grain(int x, int y)
    {
        var h = unchecked((uint)(x * 374761393 + y * 668265263));
        h = unchecked((h ^ (h >> 13)) * 1274126177);
        return ((h ^ (h >> 16)) & 0xFFFF) / 32767.5 - 1;
    }

    private static byte Code(double linear) => (byte)Math.Round(255 * Srgb.Encode(Math.Clamp(linear, 0, 1)));
}
