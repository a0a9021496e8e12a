using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Adapters.Garments;

/// <summary>
/// Points on a photograph as people write them: percent of its width and height, "12.5 20", several with a semicolon or on lines of
/// their own. Two corners of an area are those of a rectangle.
/// </summary>
public static class PhotoPoints
{
    private static readonly char[] BetweenPoints = [';', '\n', '\r'];
    private static readonly char[] BetweenNumbers = [' ', ',', '\t'];

    /// <summary>Percent pairs; null when a word is not two numbers from 0 to 100, and then it is named.</summary>
    public static ImmutableArray<(double X, double Y)>? Percent(string? text, out string? wrong)
    {
        wrong = null;
        var points = ImmutableArray.CreateBuilder<(double X, double Y)>();
        foreach (
            var point in (text ?? "").Split(
                BetweenPoints,
                StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries
            )
        )
        {
            var numbers = point.Split(BetweenNumbers, StringSplitOptions.RemoveEmptyEntries);
            if (numbers.Length != 2 || Number(numbers[0]) is not { } x || Number(numbers[1]) is not { } y)
            {
                wrong = point;
                return null;
            }
            points.Add((x, y));
        }
        return points.ToImmutable();
    }

    /// <summary>Corners in pixels.</summary>
    public static ImmutableArray<PhotoPoint> Area(ImmutableArray<(double X, double Y)> percent, int width, int height)
    {
        if (percent.Length == 2)
        {
            var ((ax, ay), (bx, by)) = (percent[0], percent[1]);
            percent = [(ax, ay), (bx, ay), (bx, by), (ax, by)];
        }
        return [.. percent.Select(p => Pixels(p.X, p.Y, width, height))];
    }

    /// <summary>To the tenth of a pixel, as the garment file keeps it.</summary>
    public static PhotoPoint Pixels(double xPercent, double yPercent, int width, int height) =>
        new(Math.Round(xPercent / 100 * width, 1), Math.Round(yPercent / 100 * height, 1));

    public static string Text(IEnumerable<(double X, double Y)> percent) =>
        string.Join("; ", percent.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.##} {p.Y:0.##}")));

    private static double? Number(string word) =>
        double.TryParse(word, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
        && value is >= 0 and <= 100
            ? value
            : null;
}
