using ProofDesk.Imaging.Colour;

namespace ProofDesk.Web.Versions;

/// <summary>How a difference is drawn: neutral grey below the threshold, then from yellow over orange to violet.</summary>
public static class DifferenceColours
{
    /// <summary>Below this two colours side by side look alike to most people (CIEDE2000; common practice).</summary>
    public const double Threshold = 1;

    /// <summary>From here on the strongest colour.</summary>
    public const double Strong = 10;

    /// <summary>The steps of the legend, each with its colour.</summary>
    public static IReadOnlyList<(double From, string Hex)> Steps { get; } =
    [(1, "#f4d35e"), (2, "#f2a541"), (4, "#e4643b"), (7, "#b8345f"), (10, "#5f1a7a")];

    private static readonly byte[][] Rgb = [.. Steps.Select(step => Convert.FromHexString(step.Hex.AsSpan(1)))];

    /// <summary>Three bytes a pixel. Where nothing differs the first picture shines through, grey and faint, to find one's way.</summary>
    public static byte[] Draw(PictureDifference difference, byte[] first)
    {
        var drawn = new byte[first.Length];
        for (var y = 0; y < difference.Height; y++)
        {
            for (var x = 0; x < difference.Width; x++)
            {
                var at = 3 * ((y * difference.Width) + x);
                var apart = difference[x, y];
                if (apart < Threshold)
                {
                    // Rec. 709 luma is enough for a shadow of the picture: 104 to 136 around the grey of the surround, 119.
                    var luma = ((54 * first[at]) + (183 * first[at + 1]) + (19 * first[at + 2])) >> 8;
                    drawn[at] = drawn[at + 1] = drawn[at + 2] = (byte)(104 + (luma >> 3));
                    continue;
                }
                var step = 0;
                while (step + 1 < Rgb.Length && apart >= Steps[step + 1].From)
                    step++;
                Rgb[step].CopyTo(drawn, at);
            }
        }
        return drawn;
    }
}
