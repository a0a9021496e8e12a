using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.TestForms;

/// <summary>How the white screen runs on a sheet: strokes on the wet screen, or printed, flashed and printed again.</summary>
public enum WhitePass
{
    OneStroke,
    TwoStrokes,
    ThreeStrokes,
    PrintFlashPrint,
}

/// <summary>
/// The shop's test form: films for one mesh, drawn at the device's own resolution, that leave through the same sheets and
/// files as every film. The white screen alone, run with two strokes, three strokes and print-flash-print on further
/// pieces, shows what each buys; no screen is burned for that.
/// </summary>
public sealed record TestForm(TestFormSettings Settings, TestFormLayout Layout, Films Films)
{
    private const double AngleDegrees = 22.5;

    /// <exception cref="ArgumentException">The settings do not make a form.</exception>
    public static TestForm Draw(TestFormSettings settings)
    {
        settings.Check();
        var layout = new TestFormLayout(settings);
        var device = settings.Device;
        var width = (int)Math.Round(TestFormLayout.WidthMm / 25.4 * device.XDpi);
        var height = (int)Math.Round(layout.HeightMm / 25.4 * device.YDpi);
        var screen = new Screen(settings.Ruling, AngleDegrees, DotShape.Euclidean);
        var array = ThresholdArray.For(screen, device);
        var planes = settings.Inks.Select(_ => new BitPlane(width, height)).ToArray();
        new TestFormDrawing(settings, layout, [.. planes.Select(p => new TestFormPen(p, array.Tile, device))]).Draw();

        var plates = settings.Inks.Select((ink, i) => PlateOf(settings, screen, i)).ToImmutableArray();
        var separation = new Separation(
            plates,
            [],
            [],
            TestFormLayout.WidthMm,
            layout.HeightMm,
            device.XDpi / 25.4,
            []
        );
        var films = plates.Select(
            (plate, i) => (Film)new StoredFilm(plate, planes[i], array.TrueLinesPerInch, array.TrueAngleDegrees)
        );
        return new(settings, layout, new(separation, device, [.. films]));
    }

    /// <summary>A whole sheet: white with one stroke, flash, then the colours.</summary>
    public GroundPlan Sheet(Ground ground) => new(ground, [.. Enumerable.Range(0, Films.Plates.Length).Select(Run)]);

    /// <summary>A further piece that only the white screen prints.</summary>
    public GroundPlan WhiteOnly(Ground ground, WhitePass pass) =>
        new(
            ground,
            pass switch
            {
                WhitePass.PrintFlashPrint => [Run(0), Run(0) with { FlashAfter = false }],
                _ => [Run(0) with { Strokes = 1 + (int)pass }],
            }
        );

    private ScreenRun Run(int plate) =>
        new(plate, true, Settings.Inks[plate], 1, Films.Plates[plate].Plate.FlashAfter, "test form");

    private static Plate PlateOf(TestFormSettings settings, Screen screen, int index)
    {
        // The films are drawn; a plate of tones is not needed to make them. One grey pixel says that there are dots.
        var tone = new BytePlane(1, 1, [128]);
        return new(
            settings.Inks[index].Name,
            index == 0 ? PlatePurpose.Base : PlatePurpose.Spot,
            settings.Inks[index],
            settings.Mesh,
            screen,
            tone,
            null,
            tone,
            Strokes: 1,
            FlashAfter: index == 0
        );
    }
}
