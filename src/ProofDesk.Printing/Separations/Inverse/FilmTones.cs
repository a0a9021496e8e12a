using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// From the tone a plate should print to the tone its film needs: the press's curve (<see cref="PressCurve"/>) read backwards, so
/// growth is taken back, and of dots that the mesh holds only in part there are more.
/// </summary>
internal sealed class FilmTones
{
    private const int Steps = 1024;

    private readonly byte[] _film = new byte[256];

    /// <param name="press">Has been through the method's own settings.</param>
    /// <param name="onBase">The plate prints on a base, where ink grows otherwise than on cloth.</param>
    public static FilmTones For(Screen screen, Mesh mesh, PressSettings press, bool onBase, WeakTones weak) =>
        new(
            new(screen, mesh, press, onBase ? press.GrowthOnBaseUm : press.GrowthUm),
            !screen.IsStochastic && weak == WeakTones.Hold
                ? ToneCompensation.SmallestHeldTone(mesh, screen.LinesPerInch)
                : 0
        );

    private FilmTones(PressCurve curve, double held)
    {
        var film = 0;
        for (var wanted = 1; wanted < 255; wanted++)
        {
            while (film < Steps && Printed(film) * 255 < wanted)
                film++;
            // Between two steps of the curve.
            var (below, above) = (Printed(Math.Max(0, film - 1)) * 255, Printed(film) * 255);
            var tone = (film - (above > below ? Math.Clamp((above - wanted) / (above - below), 0, 1) : 0)) / Steps;
            _film[wanted] = (byte)Math.Round(255 * Math.Clamp(Math.Max(tone, held), 0, 1));
        }
        _film[255] = 255;

        double Printed(int step) => curve.Printed((double)step / Steps);
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
