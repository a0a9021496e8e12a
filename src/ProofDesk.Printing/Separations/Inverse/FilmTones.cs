using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// From the tone a plate should print to the tone its film needs: growth taken back (<see cref="ToneCompensation"/>), and
/// for dots that the mesh holds only some of, more of them.
/// </summary>
internal sealed class FilmTones
{
    private const int Steps = 1024;

    private readonly byte[] _film = new byte[256];

    /// <param name="growthUm">Growth of this plate's dots.</param>
    public static FilmTones For(Screen screen, Mesh mesh, double growthUm, WeakTones weak) =>
        new(
            screen,
            mesh,
            screen.IsStochastic
                ? ToneCompensation.Stochastic(25400 / screen.LinesPerInch, growthUm)
                : new(screen.LinesPerInch, growthUm, screen.Dot),
            weak
        );

    private FilmTones(Screen screen, Mesh mesh, ToneCompensation curve, WeakTones weak)
    {
        var held = ToneCompensation.SmallestHeldTone(mesh, screen.LinesPerInch);
        var film = 0;
        for (var wanted = 1; wanted < 255; wanted++)
        {
            while (film < Steps && Printed(film) * 255 < wanted)
                film++;
            // Between two steps of the curve.
            var (below, above) = (Printed(Math.Max(0, film - 1)) * 255, Printed(film) * 255);
            var tone = (film - (above > below ? Math.Clamp((above - wanted) / (above - below), 0, 1) : 0)) / Steps;
            if (!screen.IsStochastic && tone < held && weak == WeakTones.Hold)
                tone = held;
            _film[wanted] = (byte)Math.Round(255 * Math.Clamp(tone, 0, 1));
        }
        _film[255] = 255;

        double Printed(int step)
        {
            var tone = (double)step / Steps;
            return curve.Printed(tone) * Survival(tone, screen, mesh);
        }
    }

    public byte this[byte wanted] => _film[wanted];

    /// <summary>
    /// Share of the dots of a film tone that print: none up to a width of the mesh opening w, all from 2 d + w on ([PHYSICS]
    /// 1.13). The width of an elliptical dot is its short axis, three quarters of the long one.
    /// </summary>
    internal static double Survival(double tone, Screen screen, Mesh mesh)
    {
        if (mesh.IsNone || screen.IsStochastic || tone >= 0.4)
            return 1;
        var period = 25400 / screen.LinesPerInch;
        var axes = screen.Dot == DotShape.Elliptical ? 0.75 : 1;
        var width = period * Math.Sqrt(4 * tone * axes / Math.PI);
        return Math.Clamp((width - mesh.OpeningUm) / (mesh.SafeFeatureUm - mesh.OpeningUm), 0, 1);
    }
}
