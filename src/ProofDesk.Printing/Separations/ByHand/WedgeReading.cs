using System.Collections.Immutable;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>One step of a film's wedge, all tones 0..1.</summary>
/// <param name="Made">The tone the film was made with: 0, 0.1 ... 1.</param>
/// <param name="OnFilm">What is written on film for it.</param>
/// <param name="Printed">What that is expected to print as: dots grown by this press, those lost that the mesh does not hold.</param>
/// <param name="AreaCm2">Area of the plate whose made tone is nearest to this step.</param>
public sealed record WedgeStep(double Made, double OnFilm, double Printed, double AreaCm2);

/// <summary>How dark a film prints, step by step, for whoever changes it by hand.</summary>
public static class WedgeReading
{
    /// <param name="plate">Index of a plate, as made or changed by hand; its wedge is read as <paramref name="wedge"/> says.</param>
    /// <param name="wedge">The wedge by hand; empty = as made.</param>
    /// <param name="shop">The press, as the request has it.</param>
    public static ImmutableArray<WedgeStep> Of(
        Separation separation,
        int plate,
        ImmutableArray<double> wedge,
        PressSettings shop
    )
    {
        var changed = separation.Plates[plate];
        var made = changed.Made ?? changed;
        var press = separation.Press.Settings(shop);
        var over = OverBase(separation, plate);
        var growth = press.GrowthUm + over * (press.GrowthOnBaseUm - press.GrowthUm);
        var screen = changed.Screen;
        var curve = screen.IsStochastic
            ? ToneCompensation.Stochastic(25400 / screen.LinesPerInch, growth)
            : new ToneCompensation(screen.LinesPerInch, growth, screen.Dot);
        var areas = Areas(made, separation.PixelsPerMm);
        return
        [
            .. Enumerable
                .Range(0, PlateEdit.WedgeSteps)
                .Select(step =>
                {
                    var tone = step / (PlateEdit.WedgeSteps - 1.0);
                    var film = wedge.IsDefaultOrEmpty ? tone : FilmWedge.OnFilm(wedge, tone);
                    var printed = film == 0 ? 0 : curve.Printed(film) * FilmTones.Survival(film, screen, changed.Mesh);
                    return new WedgeStep(tone, film, printed, areas[step]);
                }),
        ];
    }

    /// <summary>Share of a plate's ink that lies on a base printed before it: dots grow further there.</summary>
    private static double OverBase(Separation separation, int plate)
    {
        var own = separation.Plates[plate];
        var below = separation.Plates.Take(plate).Where(p => p.Purpose.IsBase).ToArray();
        if (own.Purpose.IsBase || below.Length == 0)
            return 0;
        var (sum, over) = (0.0, 0.0);
        for (var y = 0; y < own.Tone.Height; y++)
        for (var x = 0; x < own.Tone.Width; x++)
        {
            if (PlateInk.At(own, x, y) is not (> 0 and var ink))
                continue;
            sum += ink;
            over += ink * below.Max(b => PlateInk.At(b, x, y)) / 255.0;
        }
        return sum == 0 ? 0 : over / sum;
    }

    private static double[] Areas(Plate plate, double pixelsPerMm)
    {
        var counts = new long[PlateEdit.WedgeSteps];
        for (var y = 0; y < plate.Tone.Height; y++)
        for (var x = 0; x < plate.Tone.Width; x++)
            if (plate.Shape is not { } shape || shape[x, y] >= 128 || plate.Solid is { } solid && solid[x, y] >= 128)
                counts[(PlateInk.At(plate, x, y) * 10 + 127) / 255]++;
        return [.. counts.Select(count => count / (pixelsPerMm * pixelsPerMm) / 100)];
    }
}
