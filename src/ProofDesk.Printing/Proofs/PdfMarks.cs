using System.Globalization;
using System.Text;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// What lies outside the images on the page of all plates: register marks on every separation (/All), and each plate's line of
/// text on its own. Millimetres from the upper left corner of the images, y down.
/// </summary>
internal sealed class PdfMarks(double heightMm)
{
    private const double PointsPerMm = 72 / 25.4;
    private readonly StringBuilder _content = new();

    public string Content => _content.ToString();

    /// <summary>From here on everything is in a colour space, solid.</summary>
    public void In(string space) => _content.Append(CultureInfo.InvariantCulture, $"/{space} CS 1 SCN 1 J 1 j\n");

    public void Register(double x, double y, FrameTemplate frame)
    {
        var (half, radius) = (frame.MarkSizeMm / 2, frame.MarkSizeMm / 3);
        Width(frame.MarkLineMm);
        Line(x - half, y, x + half, y);
        Line(x, y - half, x, y + half);
        // A circle of four curves; the constant is 4/3 (sqrt 2 - 1).
        var k = radius * 4 / 3 * (Math.Sqrt(2) - 1);
        _content.Append(
            CultureInfo.InvariantCulture,
            $"{At(x + radius, y)} m {At(x + radius, y + k)} {At(x + k, y + radius)} {At(x, y + radius)} c {At(x - k, y + radius)} {At(x - radius, y + k)} {At(x - radius, y)} c {At(x - radius, y - k)} {At(x - k, y - radius)} {At(x, y - radius)} c {At(x + k, y - radius)} {At(x + radius, y - k)} {At(x + radius, y)} c S\n"
        );
    }

    public void Tick(double x, double top, double length, double lineMm)
    {
        Width(lineMm);
        Line(x, top, x, top + length);
    }

    /// <summary>Text whose capitals are so high; (x, y) is its upper left corner.</summary>
    public void Text(double x, double y, double capMm, string text)
    {
        var unit = capMm / StrokeFont.CapHeight;
        Width(capMm * 0.14);
        foreach (var letter in StrokeFont.Plain(text))
        {
            foreach (var stroke in StrokeFont.Of(letter))
            {
                for (var i = 0; i < stroke.Length; i++)
                    _content.Append(At(x + stroke[i].X * unit, y + stroke[i].Y * unit)).Append(i == 0 ? " m " : " l ");
                _content.Append("S\n");
            }
            x += StrokeFont.Advance * unit;
        }
    }

    private void Width(double mm) => _content.Append(CultureInfo.InvariantCulture, $"{Number(mm * PointsPerMm)} w\n");

    private void Line(double x1, double y1, double x2, double y2) =>
        _content.Append(CultureInfo.InvariantCulture, $"{At(x1, y1)} m {At(x2, y2)} l S\n");

    private string At(double x, double y) => $"{Number(x * PointsPerMm)} {Number((heightMm - y) * PointsPerMm)}";

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
