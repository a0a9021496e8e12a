using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>Small named makers for press tests: cloths, films drawn bit by bit, presses without error, and reading the picture.</summary>
internal static class PressBench
{
    public const double PxPerMm = 1440 / 25.4;

    /// <summary>A press that puts every dot where the film has it.</summary>
    public static PressSettings Still { get; } =
        PressSettings.Automatic with
        {
            SetUpSigmaMm = 0,
            PalletSigmaMm = 0,
            JitterSigmaMm = 0,
            GrowthUm = 0,
            GrowthOnBaseUm = 0,
            GrowthNoiseUm = 0,
        };

    public static Ground Black { get; } = Cloth("black", ClothSpectra.FromLab(new(16.5, 0.3, -1.2)));

    /// <summary>White without brightener.</summary>
    public static Ground White { get; } = Cloth("white", ClothSpectra.UndyedCotton());

    public static Ground Red { get; } = Cloth("red", ClothSpectra.FromLab(new(38, 55, 30)));

    public static Ground Heather { get; } =
        Cloth(
            "heather",
            ClothSpectra.Heather(ClothSpectra.UndyedCotton(), DarkFibre, 0.09),
            new HeatherFleck(DarkFibre, ClothSpectra.UndyedCotton(), 0.09)
        );

    private static Spectrum DarkFibre => ClothSpectra.FromLab(new(17, 0, -0.5));

    /// <summary>A film of this many film pixels.</summary>
    public static BitPlane Drawn(int width, int height, Func<int, int, bool> ink)
    {
        var bits = new BitPlane(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            if (ink(x, y))
                bits[x, y] = true;
        return bits;
    }

    public static BitPlane Solid(int width, int height) => Drawn(width, height, (_, _) => true);

    /// <summary>Euclidean dots on a square grid along the axes, exact in area: each cell's pixels are ranked by the spot function.</summary>
    public static BitPlane Halftone(int width, int height, double linesPerInch, double tone)
    {
        var period = (int)Math.Round(1440 / linesPerInch);
        var order = Enumerable
            .Range(0, period * period)
            .OrderByDescending(i =>
                Math.Cos(2 * Math.PI * (i % period + 0.5) / period)
                + Math.Cos(2 * Math.PI * (i / period + 0.5) / period)
                + 1e-9 * i
            )
            .ToArray();
        var on = new bool[period * period];
        foreach (var i in order.Take((int)Math.Round(tone * on.Length)))
            on[i] = true;
        return Drawn(width, height, (x, y) => on[y % period * period + x % period]);
    }

    public static Plate Screen(string ink, string mesh, PlatePurpose purpose, bool flashAfter = false, int strokes = 1)
    {
        var tone = new BytePlane(1, 1);
        return new(
            ink,
            purpose,
            InkLibrary.Find(ink)!,
            Meshes.Find(mesh)!,
            new Screen(55, 22.5, DotShape.Euclidean),
            tone,
            null,
            tone,
            strokes,
            flashAfter
        );
    }

    public static Plate Base(string mesh = "61-64") => Screen("white", mesh, PlatePurpose.Base, flashAfter: true);

    public static Plate Spot(string ink, string mesh = "90-40") => Screen(ink, mesh, PlatePurpose.Spot);

    public static Films Films(params (Plate Plate, BitPlane Bits)[] films) => Films(OutputDevice.Fallback, films);

    public static Films Films(OutputDevice device, params (Plate Plate, BitPlane Bits)[] films)
    {
        var bits = films[0].Bits;
        var separation = new Separation(
            [.. films.Select(f => f.Plate)],
            [],
            [],
            bits.Width / device.XDpi * 25.4,
            bits.Height / device.YDpi * 25.4,
            10,
            []
        );
        return new(separation, device, [.. films.Select(f => new StoredFilm(f.Plate, f.Bits, 55, 0))]);
    }

    public static GroundPlan On(this Films films, Ground ground) =>
        new(
            ground,
            [
                .. films.Separation.Plates.Select(
                    (plate, i) => new ScreenRun(i, true, plate.Ink, plate.Strokes, plate.FlashAfter, "")
                ),
            ]
        );

    public static PrintedCloth PrintOn(
        this Films films,
        Ground ground,
        PressSettings? press = null,
        Deposit deposit = Deposit.Expected,
        ulong seed = 1,
        int? afterScreens = null
    ) => PrintSimulator.Print(films, films.On(ground), press ?? Still, deposit, ViewingLight.D50, seed, afterScreens);

    /// <summary>Mean of a region in linear light, mm from the films' top left corner.</summary>
    public static LinearRgb Mean(this PrintedCloth cloth, double left, double top, double right, double bottom)
    {
        var picture = cloth.Print;
        double r = 0,
            g = 0,
            b = 0;
        long count = 0;
        for (var y = Pixel(cloth, top); y < Pixel(cloth, bottom); y++)
        for (var x = Pixel(cloth, left); x < Pixel(cloth, right); x++)
        {
            var at = 3 * (y * picture.Width + x);
            r += Srgb.Decode(picture.Pixels[at] / 255.0);
            g += Srgb.Decode(picture.Pixels[at + 1] / 255.0);
            b += Srgb.Decode(picture.Pixels[at + 2] / 255.0);
            count++;
        }
        return new(r / count, g / count, b / count);
    }

    public static Lab MeanLab(this PrintedCloth cloth, double left, double top, double right, double bottom) =>
        Srgb.ToLab(cloth.Mean(left, top, right, bottom));

    /// <summary>Luminance factor of a region, 0..1.</summary>
    public static double MeanY(this PrintedCloth cloth, double left, double top, double right, double bottom) =>
        Srgb.ToXyz(cloth.Mean(left, top, right, bottom), ViewingLight.D50).Y / 100;

    /// <summary>Share of ink of a region, from the ink mask.</summary>
    public static double MeanInk(this PrintedCloth cloth, double left, double top, double right, double bottom)
    {
        double sum = 0;
        long count = 0;
        for (var y = Pixel(cloth, top); y < Pixel(cloth, bottom); y++)
        for (var x = Pixel(cloth, left); x < Pixel(cloth, right); x++, count++)
            sum += cloth.InkMask[x, y];
        return sum / 255 / count;
    }

    public static int Pixel(PrintedCloth cloth, double mm) =>
        (int)Math.Round((mm + cloth.MarginMm) * cloth.Print.PixelsPerMm);

    /// <summary>Film pixels of a length.</summary>
    public static int Px(double mm) => (int)Math.Round(mm * PxPerMm);

    private static Ground Cloth(string id, Spectrum reflectance, HeatherFleck? fleck = null)
    {
        var colour = new GarmentColour(id, id, reflectance, [new(FibreKind.Cotton, 1)], 0, fleck, DataClass.C, "test");
        var garment = new Garment("tee", "Tee", new Knit(0.78, 0.58, 0.55, 0.006), [], [colour], "");
        return new(garment, colour);
    }
}
