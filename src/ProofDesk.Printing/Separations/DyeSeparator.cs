using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Separations;

/// <summary>Art becomes four tones of dye: the inverse of the model that draws the picture. No white, no base.</summary>
public static class DyeSeparator
{
    /// <summary>What a transfer printer is asked for; finer devices gain nothing through the gas.</summary>
    public const double DeviceDpi = 720;

    /// <summary>Whole panels are written coarser.</summary>
    public const double PanelDpi = 480;

    /// <summary>A plate whose strongest tone is below this is noise of the inverse, not colour.</summary>
    private const byte LeastTone = 8;

    /// <summary>Usual angles of cyan, magenta, yellow and black (common practice), for a shop that asks for a ruling.</summary>
    private static readonly double[] Angles = [22.5, 52.5, 7.5, 82.5];

    /// <summary>The transfer printer that stands in for the shop's film recorder.</summary>
    public static OutputDevice Device(OutputDevice shop) => Printer(shop, DeviceDpi);

    /// <summary>The same for whole panels.</summary>
    public static OutputDevice PanelDevice(OutputDevice shop) => Printer(shop, PanelDpi);

    public static PrintMethod Sublimation { get; } =
        new(
            "sublimation",
            "Dye sublimation",
            InkKind.Dye,
            InkKind.Dye,
            "dye that goes into polyester and nowhere else: no white, pale garments only, nothing to feel",
            "heat presses burn, and hot transfers give off fumes; ventilate, follow the supplier's sheets and local rules, and press a test square before the run"
        )
        {
            Separate = Separate,
            InkFreedom = InkFreedom.None,
            Press = SublimationPress.Sewn,
            Work = new() { JetsRolls = true, HeatPresses = 1 },
            AllOver = new(15, Always: false, "the paper is laid by hand"),
            Device = Device,
            Production = DyePrintFile.Of,
            Reversed = true,
        };

    public static PrintMethod CutAndSew { get; } =
        new(
            "cut-and-sew",
            "Cut and sew, dye sublimation",
            InkKind.Dye,
            InkKind.Dye,
            "white polyester dyed in flat panels and sewn afterwards: all over, no creases, art meets at seams within a few mm",
            "heat presses burn, and hot transfers give off fumes; ventilate, follow the supplier's sheets and local rules, and press a test square before the run"
        )
        {
            Separate = Separate,
            InkFreedom = InkFreedom.None,
            Press = new CutAndSewPress(),
            Work = new()
            {
                JetsRolls = true,
                HeatPresses = 1,
                Sews = true,
            },
            AllOver = new(15, Always: true, "the seam allowance is 10 mm and cloth is cut by hand"),
            Device = PanelDevice,
            Production = PanelFiles.OfCutAndSew,
            Reversed = true,
        };

    /// <exception cref="ArgumentException">No ground was given.</exception>
    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        if (grounds.IsDefaultOrEmpty)
            throw new ArgumentException("a separation needs at least one ground, none given");
        var refusals = DyeChecks.Refusals(method, grounds, settings);
        var plates = refusals.Any(f => f.Weight == FindingWeight.Refusal) ? [] : Plates(art, method, grounds, settings);
        var runs = plates.Select((p, i) => new ScreenRun(i, true, p.Ink, 1, false, "dye of the print file")).ToArray();
        return new(
            plates,
            [.. grounds.Select(ground => new GroundPlan(ground, [.. runs]))],
            [],
            art.WidthMm,
            art.HeightMm,
            art.PixelsPerMm,
            [
                .. art.Findings,
                .. refusals,
                .. plates.IsEmpty && refusals.IsEmpty ? [DyeChecks.NothingToDye()] : ImmutableArray<Finding>.Empty,
                .. DyeChecks.Of(art, grounds),
            ]
        );
    }

    private static ImmutableArray<Plate> Plates(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var inks = DyeInks.All;
        ImmutableArray<InkPass> passes = [.. inks.Select(ink => new InkPass(ink, Mesh.None, 1, false))];
        // One print file for all grounds: made for the one that takes most dye, muted on the others.
        var best = grounds.MaxBy(g => Dyes.Sublimation.PolyesterShare(g.Colour))!;
        var table = new DyeTable(DyeTones.On(best, passes, method.Press, settings.Press));
        var wanted = Tones(art.Pixels, table);
        var device = method.Device(OutputDevice.Fallback);
        Screen ScreenOf(int dye) =>
            settings.LinesPerInch is { } lpi
                ? new(lpi, Angles[dye], DotShape.Round)
                : Screen.Stochastic(25400 / device.XDpi, dye);
        return
        [
            .. Enumerable
                .Range(0, inks.Length)
                .Where(i => wanted[i].Pixels.AsSpan().ContainsAnyExceptInRange((byte)0, LeastTone))
                .Select(i => new Plate(
                    inks[i].Name.Split(' ')[0],
                    PlatePurpose.Process,
                    inks[i],
                    Mesh.None,
                    ScreenOf(i),
                    wanted[i],
                    null,
                    wanted[i],
                    1,
                    false
                )),
        ];
    }

    private static OutputDevice Printer(OutputDevice shop, double dpi) =>
        shop.Replaced("transfer printer", Math.Min(dpi, shop.XDpi), Math.Min(dpi, shop.YDpi));

    private static BytePlane[] Tones(RgbaRaster art, DyeTable table)
    {
        var planes = Enumerable.Range(0, DyeTones.Dyes).Select(_ => new BytePlane(art.Width, art.Height)).ToArray();
        RowLoop.Run(
            art.Height,
            art.Width * 16,
            y =>
            {
                Span<float> tones = stackalloc float[DyeTones.Dyes];
                var from = art.Row(y);
                for (var x = 0; x < art.Width; x++)
                {
                    var pixel = from.Slice(4 * x, 4);
                    table.Of(
                        OverCloth(pixel[0], pixel[3]),
                        OverCloth(pixel[1], pixel[3]),
                        OverCloth(pixel[2], pixel[3]),
                        tones
                    );
                    for (var ink = 0; ink < tones.Length; ink++)
                        planes[ink].Pixels[y * art.Width + x] = (byte)Math.Clamp(255 * tones[ink] + 0.5f, 0, 255);
                }
            }
        );
        return planes;
    }

    /// <summary>White of the art is the cloth, so what is transparent fades to white.</summary>
    private static int OverCloth(ushort value, ushort alpha) => 65535 - (int)((65535L - value) * alpha / 65535);
}
