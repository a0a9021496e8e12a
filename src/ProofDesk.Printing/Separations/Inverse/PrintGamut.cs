using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// What a plate set can print on one ground, and where colours of the art go in it. Lightness keeps its order: black
/// and white of the art become black and white of the print, light in between in proportion (black point
/// compensation), and the grey axis runs from the one to the other. Chroma is left alone up to nine tenths of what the print
/// can do and compressed beyond, towards the lightness at which the print has most of this hue; hue stays. The knee is the idea
/// of SGCK in [CIE-156]; hue lines are those of Oklab, CIELAB's bend blue towards purple.
/// </summary>
internal sealed class PrintGamut
{
    private const int Hues = 36;
    private const int Levels = 14;
    private const double Knee = 0.9;

    /// <summary>Lightness (Oklab) is given up for chroma only so far.</summary>
    private const double MostShift = 0.1;

    /// <summary>More chroma (Oklab) than any ink has, and the step to which the chroma of a print is found.</summary>
    private const double MostChroma = 0.4;
    private const double Finest = MostChroma / 63;

    /// <summary>A colour is reached when it comes this near (Oklab x 100).</summary>
    private const double Reached = 1.2;

    private readonly Oklab _black;
    private readonly Oklab _white;
    private readonly double[,] _print = new double[Hues, Levels + 1];
    private readonly double[,] _art = new double[Hues, Levels + 1];
    private readonly double[] _cusp = new double[Hues];

    private PrintGamut(Oklab black, Oklab white) => (_black, _white) = (black, white);

    public Oklab Black => _black;
    public Oklab White => _white;

    /// <param name="solver">A solver on this ground alone, one for each call: they run side by side.</param>
    /// <param name="clothIsBlack">The cloth itself is the black.</param>
    /// <param name="clothIsWhite">The cloth itself is the white.</param>
    /// <param name="whites">The white plates that run here, full; empty where none does.</param>
    public static PrintGamut Of(
        Func<CoverageSolver> solver,
        int plates,
        ReadOnlySpan<float> whites,
        bool clothIsBlack,
        bool clothIsWhite
    )
    {
        var gamut = Ends(solver(), plates, whites, clothIsBlack, clothIsWhite);
        Parallel.For(0, Hues, hue => gamut.Measure(hue, solver(), plates));
        return gamut;
    }

    /// <summary>Black and white only: <see cref="Ideal"/> works, colours are not brought in.</summary>
    public static PrintGamut Ends(
        CoverageSolver finder,
        int plates,
        ReadOnlySpan<float> whites,
        bool clothIsBlack,
        bool clothIsWhite
    )
    {
        var bare = new float[plates];
        var cloth = Seen(finder.Colour(bare, 0));
        var black = clothIsBlack ? cloth : End(finder, plates, 0);
        // White is what the white inks make. Colours that hold white would lift it a little if two of them cancelled each
        // other, and a press out of register would show both.
        var white =
            clothIsWhite ? cloth
            : whites.Length > 0 ? Seen(finder.Colour(whites, 0))
            : End(finder, plates, 100);
        return new(black, white);
    }

    /// <summary>Where a colour of the art would be if the print could do everything between its black and its white.</summary>
    public Oklab Ideal(LinearRgb art)
    {
        var (lightness, chroma, cos, sin) = Fitted(art);
        var grey = Grey(lightness);
        return new(lightness, grey.A + chroma * cos, grey.B + chroma * sin);
    }

    /// <summary>The colour of art that comes out as the bare cloth: what art that fades fades to.</summary>
    public LinearRgb ArtLikeCloth(Oklab cloth)
    {
        var art = cloth;
        for (var i = 0; i < 12; i++)
        {
            var (seen, _) = Map(GamutMapping.IntoSrgb(art.ToLinear()));
            art = new(Math.Clamp(art.L + cloth.L - seen.L, 0, 1), art.A + cloth.A - seen.A, art.B + cloth.B - seen.B);
        }
        return GamutMapping.IntoSrgb(art.ToLinear());
    }

    private (double Lightness, double Chroma, double Cos, double Sin) Fitted(LinearRgb art)
    {
        var seen = Oklab.FromLinear(art);
        var lightness = Lightness(seen.L);
        var chroma = seen.Chroma * Math.Min(1, seen.L <= 1e-9 ? 1 : lightness / seen.L);
        return seen.Chroma < 1e-9
            ? (lightness, 0, 1, 0)
            : (lightness, chroma, seen.A / seen.Chroma, seen.B / seen.Chroma);
    }

    /// <summary>Where a colour of the art is wanted on this ground, and <see cref="Ideal"/>.</summary>
    public (Oklab Wanted, Oklab Ideal) Map(LinearRgb art)
    {
        var ideal = Ideal(art);
        var (lightness, chroma, cos, sin) = Fitted(art);
        if (chroma < 1e-6)
            return (ideal, ideal);
        var hue = (Math.Atan2(sin, cos) / (2 * Math.PI) + 1) % 1 * Hues;
        // Of a hue that the inks hardly have, next to nothing is left: drawn all the way to the lightest such colour, a dark green
        // would become a pale grey.
        var cusp = lightness + Math.Clamp(Around(_cusp, hue) - lightness, -MostShift, MostShift);
        var canPrint = Along(_print, hue, cusp, lightness, chroma);
        var canShow = Math.Max(1, Along(_art, hue, cusp, lightness, chroma));
        var share = 1.0;
        if (canShow > canPrint && Knee * canPrint < 1)
            share =
                Knee * canPrint
                + (1 - Knee * canPrint) * ((1 - Knee) * canPrint) / Math.Max(1e-9, canShow - Knee * canPrint);
        var to = cusp + share * (lightness - cusp);
        var grey = Grey(to);
        return (new(to, grey.A + share * chroma * cos, grey.B + share * chroma * sin), ideal);
    }

    /// <summary>Light in proportion between the ends, as lightness.</summary>
    private double Lightness(double art)
    {
        var (low, high) = (Cube(_black.L), Cube(_white.L));
        return Math.Cbrt(low + (high - low) * Cube(Math.Clamp(art, 0, 1)));
    }

    private static double Cube(double v) => v * v * v;

    /// <summary>The print's grey of a lightness: from its black to its white.</summary>
    private Oklab Grey(double lightness)
    {
        var share = Math.Clamp((lightness - _black.L) / Math.Max(1e-6, _white.L - _black.L), 0, 1);
        return new(lightness, (1 - share) * _black.A + share * _white.A, (1 - share) * _black.B + share * _white.B);
    }

    private double LevelOf(int level) => _black.L + (_white.L - _black.L) * level / Levels;

    private void Measure(int hue, CoverageSolver solver, int plates)
    {
        var angle = hue * 2 * Math.PI / Hues;
        var (sin, cos) = Math.SinCos(angle);
        var best = 0.0;
        Span<float> start = stackalloc float[plates];
        Span<float> at = stackalloc float[plates];
        Span<double> wanted = stackalloc double[3];
        _cusp[hue] = (_black.L + _white.L) / 2;
        for (var level = 0; level <= Levels; level++)
        {
            var lightness = LevelOf(level);
            _art[hue, level] = ArtChroma(lightness, cos, sin);
            if (level is 0 or Levels)
                continue;
            var grey = Grey(lightness);
            Want(wanted, lightness, grey, 0, cos, sin);
            solver.SolveAnew(start, wanted, 30, Reached);
            var (inside, outside) = (0.0, MostChroma);
            do
            {
                while (outside - inside > Finest)
                {
                    var chroma = (inside + outside) / 2;
                    Want(wanted, lightness, grey, chroma, cos, sin);
                    start.CopyTo(at);
                    solver.Solve(at, wanted, [], 0, 30);
                    if (solver.Distance(at, wanted, 0) > Reached)
                    {
                        outside = chroma;
                        continue;
                    }
                    inside = chroma;
                    at.CopyTo(start);
                }
                // Where this way ends another may lead on.
                Want(wanted, lightness, grey, outside, cos, sin);
                if (outside >= MostChroma || !FromElsewhere(solver, at, wanted))
                    break;
                (inside, outside) = (outside, MostChroma);
                at.CopyTo(start);
            } while (true);
            _print[hue, level] = inside;
            if (inside > best)
                (best, _cusp[hue]) = (inside, lightness);
        }
    }

    private static void Want(
        Span<double> wanted,
        double lightness,
        Oklab grey,
        double chroma,
        double cos,
        double sin
    ) =>
        (wanted[0], wanted[1], wanted[2]) = (
            PlateModel.Scale * lightness,
            PlateModel.Scale * (grey.A + chroma * cos),
            PlateModel.Scale * (grey.B + chroma * sin)
        );

    /// <summary>
    /// One way may end beside a colour the print does have (on coloured cloth between base and no base): look from other places.
    /// </summary>
    private static bool FromElsewhere(CoverageSolver solver, Span<float> at, ReadOnlySpan<double> wanted)
    {
        solver.SolveAnew(at, wanted, 40, Reached * Reached);
        return solver.Distance(at, wanted, 0) <= Reached;
    }

    /// <summary>Largest chroma of this hue that art has at what becomes this lightness.</summary>
    private double ArtChroma(double lightness, double cos, double sin)
    {
        var (low, high) = (Cube(_black.L), Cube(_white.L));
        var art = Math.Cbrt(Math.Clamp((Cube(lightness) - low) / Math.Max(1e-9, high - low), 0, 1));
        var (inside, outside) = (0.0, 0.4);
        for (var i = 0; i < 14; i++)
        {
            var chroma = (inside + outside) / 2;
            if (GamutMapping.IsInSrgb(new Oklab(art, chroma * cos, chroma * sin).ToLinear()))
                inside = chroma;
            else
                outside = chroma;
        }
        return inside * Math.Min(1, art <= 1e-9 ? 1 : lightness / art);
    }

    /// <summary>How far the way from (cusp, 0) through (lightness, chroma) stays inside, in lengths of that way.</summary>
    private double Along(double[,] leaf, double hue, double cusp, double lightness, double chroma)
    {
        var (inside, outside) = (0.0, 8.0);
        for (var i = 0; i < 18; i++)
        {
            var t = (inside + outside) / 2;
            if (t * chroma <= Chroma(leaf, hue, cusp + t * (lightness - cusp)))
                inside = t;
            else
                outside = t;
        }
        return inside;
    }

    private double Chroma(double[,] leaf, double hue, double lightness)
    {
        var at = (lightness - _black.L) / Math.Max(1e-6, _white.L - _black.L) * Levels;
        if (at <= 0 || at >= Levels)
            return 0;
        var (level, h) = ((int)at, (int)hue % Hues);
        var (share, turn) = (at - level, hue - Math.Floor(hue));
        var next = (h + 1) % Hues;
        return (1 - turn) * ((1 - share) * leaf[h, level] + share * leaf[h, level + 1])
            + turn * ((1 - share) * leaf[next, level] + share * leaf[next, level + 1]);
    }

    private static double Around(double[] values, double hue)
    {
        var h = (int)hue % Hues;
        var turn = hue - Math.Floor(hue);
        return (1 - turn) * values[h] + turn * values[(h + 1) % Hues];
    }

    private static Oklab End(CoverageSolver solver, int plates, double lightness)
    {
        Span<float> at = stackalloc float[plates];
        solver.SolveAnew(at, [lightness, 0, 0], 200, 0);
        return Seen(solver.Colour(at, 0));
    }

    private static Oklab Seen((double L, double A, double B) colour) =>
        new(colour.L / PlateModel.Scale, colour.A / PlateModel.Scale, colour.B / PlateModel.Scale);
}
