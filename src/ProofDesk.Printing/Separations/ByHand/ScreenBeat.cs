using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// Two screens on each other draw a third pattern: its frequency is the difference of theirs ([PHYSICS] 1.13 for mesh and
/// screen; here two screens, first order). Screens in step have none.
/// </summary>
internal static class ScreenBeat
{
    /// <summary>The longest beat, mm; 0 when the screens are in step or one has no lattice.</summary>
    public static double PeriodMm(Screen a, Screen b)
    {
        if (a.IsStochastic || b.IsStochastic)
            return 0;
        var slowest = double.PositiveInfinity;
        var (ax, ay) = Lines(a, 0);
        for (var quarter = 0; quarter < 4; quarter++)
        {
            var (bx, by) = Lines(b, quarter);
            slowest = Math.Min(slowest, Math.Sqrt((ax - bx) * (ax - bx) + (ay - by) * (ay - by)));
        }
        return slowest < 1e-6 ? 0 : 25.4 / slowest;
    }

    private static (double X, double Y) Lines(Screen screen, int quarter)
    {
        var (sin, cos) = Math.SinCos(screen.AngleDegrees * Math.PI / 180 + quarter * Math.PI / 2);
        return (screen.LinesPerInch * cos, screen.LinesPerInch * sin);
    }
}
