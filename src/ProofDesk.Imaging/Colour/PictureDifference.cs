using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Two sRGB pictures of one size, pixel against pixel: CIEDE2000 between their Lab D50 colours. Bytes that are equal are 0 without
/// arithmetic, and colours met before are looked up, so that two versions of a flat print cost little.
/// </summary>
public sealed class PictureDifference
{
    // A hundredth of a unit, as much as anybody tells apart and far finer than 8-bit code values.
    private const int PerUnit = 100;

    private readonly ushort[] _hundredths;

    private PictureDifference(int width, int height, ushort[] hundredths)
    {
        (Width, Height, _hundredths) = (width, height, hundredths);
        var counts = new long[ushort.MaxValue + 1];
        long sum = 0;
        foreach (var value in hundredths)
        {
            counts[value]++;
            sum += value;
        }
        Mean = (double)sum / hundredths.Length / PerUnit;
        Percentile95 = Below(counts, 0.95);
        Largest = Below(counts, 1);
    }

    public int Width { get; }
    public int Height { get; }

    /// <summary>Over the whole picture.</summary>
    public double Mean { get; }

    /// <summary>19 of 20 pixels differ by no more.</summary>
    public double Percentile95 { get; }
    public double Largest { get; }

    public double this[int x, int y] => (double)_hundredths[(y * Width) + x] / PerUnit;

    /// <summary>Share of the pixels that differ by this much or more, 0..1.</summary>
    public double ShareFrom(double deltaE00)
    {
        var from = (int)Math.Ceiling(deltaE00 * PerUnit);
        return (double)_hundredths.LongCount(value => value >= from) / _hundredths.Length;
    }

    /// <param name="one">three bytes a pixel, sRGB</param>
    /// <param name="other">the same size</param>
    public static PictureDifference Of(byte[] one, byte[] other, int width, int height)
    {
        var bytes = checked(3 * width * height);
        if (one.Length != bytes || other.Length != bytes)
            throw new ArgumentException(
                $"{width} x {height} needs {bytes} bytes in each picture; {one.Length} and {other.Length} given"
            );
        var decoded = new double[256];
        for (var code = 0; code < 256; code++)
            decoded[code] = Srgb.Decode(code / 255.0);
        var hundredths = new ushort[width * height];
        RowLoop.Run(
            height,
            width * 16,
            y =>
            {
                var known = new Dictionary<(int, int), ushort>();
                for (var x = 0; x < width; x++)
                {
                    var at = 3 * ((y * width) + x);
                    var (a, b) = (Packed(one, at), Packed(other, at));
                    if (a == b)
                        continue;
                    if (!known.TryGetValue((a, b), out var value))
                    {
                        var difference = Ciede2000.Difference(LabOf(one, at), LabOf(other, at));
                        value = (ushort)Math.Min(ushort.MaxValue, Math.Round(difference * PerUnit));
                        known[(a, b)] = value;
                    }
                    hundredths[(y * width) + x] = value;
                }
            }
        );
        return new(width, height, hundredths);

        Lab LabOf(byte[] picture, int at) =>
            Srgb.ToLab(new(decoded[picture[at]], decoded[picture[at + 1]], decoded[picture[at + 2]]));
    }

    private static int Packed(byte[] picture, int at) => picture[at] << 16 | picture[at + 1] << 8 | picture[at + 2];

    private double Below(long[] counts, double share)
    {
        var wanted = (long)Math.Ceiling(share * _hundredths.Length);
        long met = 0;
        for (var value = 0; value < counts.Length; value++)
        {
            met += counts[value];
            if (met >= wanted)
                return (double)value / PerUnit;
        }
        return 0;
    }
}
