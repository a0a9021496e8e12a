using System.Globalization;

namespace ProofDesk.Web.LightTable;

/// <summary>
/// The table drawn in millimetres of the print, its top left corner of the inked extent at 0, 0: a sheet of film reaches
/// past the ink on every side, the glass past the sheet.
/// </summary>
public sealed record TableDrawing(double WidthMm, double HeightMm, int Films)
{
    /// <summary>A hundredth of the longer side: lines, marks and tabs are drawn in it so that they look alike at every size.</summary>
    public double Unit => Math.Max(WidthMm, HeightMm) / 100;

    /// <summary>Clear film around the ink.</summary>
    public double Margin => 6.5 * Unit;

    private double Glass => 3 * Unit;
    private double TabHeight => 5 * Unit;

    public double SheetWidth => WidthMm + 2 * Margin;
    public double SheetHeight => HeightMm + 2 * Margin;
    public double Left => -Margin - Glass;
    public double Top => -Margin - Glass;
    public double Width => SheetWidth + 2 * Glass;
    public double Height => SheetHeight + TabHeight + 2 * Glass;

    public string ViewBox => $"{N(Left)} {N(Top)} {N(Width)} {N(Height)}";

    /// <summary>A sheet with its tab, which stands at another place for each film, as on a card file.</summary>
    public string Outline(int screen)
    {
        var (left, top) = (-Margin, -Margin);
        var (right, bottom) = (WidthMm + Margin, HeightMm + Margin);
        var (from, width) = Tab(screen);
        var slope = 0.6 * Unit;
        return $"M{N(left)} {N(top)}H{N(right)}V{N(bottom)}H{N(from + width)}l{N(-slope)} {N(TabHeight)}H{N(from + slope)}L{N(from)} {N(bottom)}H{N(left)}Z";
    }

    public (double X, double Y) TabMiddle(int screen)
    {
        var (from, width) = Tab(screen);
        return (from + width / 2, HeightMm + Margin + 0.72 * TabHeight);
    }

    /// <summary>Where a finger takes hold of the film.</summary>
    public (double X, double Y, double Width, double Height) TabBox(int screen)
    {
        var (from, width) = Tab(screen);
        return (from, HeightMm + Margin, width, TabHeight);
    }

    /// <summary>Crosses in a ring, top and bottom centre: those of all films lie on each other when nothing is slid.</summary>
    public string RegisterMarks
    {
        get
        {
            var (x, top, bottom) = (WidthMm / 2, -Margin / 2, HeightMm + Margin / 2);
            return Mark(x, top) + Mark(x, bottom);
        }
    }

    public double SlideMm(double percent) => SheetWidth * percent / 100;

    public static string N(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private (double From, double Width) Tab(int screen)
    {
        var slot = Math.Min(SheetWidth / Films, 12 * Unit);
        return (-Margin + slot * (screen - 1), slot);
    }

    private string Mark(double x, double y)
    {
        var (arm, ring) = (2.4 * Unit, 1.3 * Unit);
        return $"M{N(x - arm)} {N(y)}h{N(2 * arm)}M{N(x)} {N(y - arm)}v{N(2 * arm)}M{N(x - ring)} {N(y)}a{N(ring)} {N(ring)} 0 1 0 {N(2 * ring)} 0a{N(ring)} {N(ring)} 0 1 0 {N(-2 * ring)} 0";
    }
}
