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
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Separations.Mixed;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Jetted colour: cyan, magenta, yellow and black in stochastic dots, over an amount of white that is solved with them
/// and is nothing where the cloth is light enough.
/// </summary>
internal static class DirectToGarment
{
    /// <summary>A fired drop's place, um: 720 a line inch.</summary>
    public const double DotUm = 25400 / 720.0;

    /// <summary>Resolution of the channels of the print file: half the drops, so each pixel is the mean of a few.</summary>
    private const double FileDotsPerInch = 360;

    private const double TotalInk = 2.8;

    public static PrintMethod Method { get; } =
        new(
            "direct-to-garment",
            "Direct to garment",
            InkKind.Jet,
            InkKind.Jet,
            "jetted cyan, magenta, yellow and black, over jetted white where the cloth is dark: any picture, one shirt or a hundred",
            "pretreatment mist and heat presses can irritate and burn; ventilate, follow the ink and pretreatment suppliers' sheets and local rules, and test-wash before the run"
        )
        {
            Separate = Separate,
            InkFreedom = InkFreedom.None,
            Press = new JetPress(),
            Work = new() { JetsGarments = true },
            Production = Files,
            // No film: what was measured on the shop's film device is not the printer's.
            Device = shop => shop.Replaced(shop.Name, shop.OwnXDpi, shop.OwnYDpi),
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var refusals = TonalChecks.Settings(method, settings).ToArray();
        if (refusals.Length > 0)
            return TonalJobs.Refused(art, grounds, refusals);
        return MixedSeparator.Separate(
            art,
            Job(method, grounds, settings),
            MixedSeparator.FlatOf(art, settings),
            together: 3,
            SolidInks.NearEnoughOfGiven,
            Cloth(grounds, settings)
        );
    }

    internal static TonalJob Job(PrintMethod method, ImmutableArray<Ground> grounds, SpotSettings settings)
    {
        var whiteRuns = TonalJobs.WhiteRuns(grounds, settings);
        var plates = ImmutableArray.CreateBuilder<TonalPlate>();
        var variant = 0;
        if (whiteRuns.Contains(true))
            plates.Add(
                TonalJobs.Base(method, settings, Screen.Stochastic(DotUm, variant++), Mesh.None) with
                {
                    Mesh = Mesh.None,
                    FlashAfter = false,
                }
            );
        Add("jet-cyan", 0.8);
        Add("jet-magenta", 0.8);
        Add("jet-yellow", 0.6);
        Add("jet-black", 0.3);
        return new(
            method,
            grounds,
            settings,
            plates.ToImmutable(),
            whiteRuns,
            InStep: false,
            TotalInk + (whiteRuns.Contains(true) ? 1 : 0)
        );

        void Add(string id, double cost)
        {
            var ink = InkLibrary.Find(id)!;
            plates.Add(
                new(ink.Name, PlatePurpose.Process, ink, Mesh.None, Screen.Stochastic(DotUm, variant++), cost, 1, false)
            );
        }
    }

    /// <summary>What was bound, for the printer's own software: one channel for each ink, averaged from the very dots.</summary>
    public static ImmutableArray<ProductionFile> Files(Proof proof) => [Channels(proof.Films)];

    internal static ProductionChannels Channels(Films films)
    {
        var device = films.Device;
        var (across, down) = (Box(device.XDpi), Box(device.YDpi));
        var channels = ImmutableArray.CreateBuilder<InkChannel>();
        foreach (var film in films.Plates)
        {
            var plane = new BytePlane((film.Width + across - 1) / across, (film.Height + down - 1) / down);
            RowLoop.RunBands(
                plane.Height,
                32,
                (top, count) =>
                {
                    var rows = Math.Min(film.Height, (top + count) * down) - top * down;
                    var bits = new BitPlane(film.Width, rows);
                    film.ReadRows(top * down, bits);
                    BitAverage.Boxes(bits, across, down).Pixels.AsSpan().CopyTo(plane.Pixels.AsSpan(top * plane.Width));
                }
            );
            channels.Add(new(film.Plate.Purpose.IsBase ? "white" : film.Plate.Name.ToLowerInvariant(), plane));
        }
        return new("print-file.png", channels.ToImmutable(), device.XDpi / across / 25.4);

        static int Box(double dpi) => Math.Max(1, (int)Math.Round(dpi / FileDotsPerInch));
    }

    private static IEnumerable<Finding> Cloth(ImmutableArray<Ground> grounds, SpotSettings settings)
    {
        yield return new(
            "pretreat",
            FindingWeight.Note,
            "the cloth is pretreated before it is printed: without it white sinks in and colours wash out",
            "pretreat evenly over more than the print, press dry, and follow the supplier's sheet for amount and heat"
        );
        foreach (var ground in grounds)
        {
            var polyester = ground.Colour.Fibres.Where(f => f.Fibre == FibreKind.Polyester).Sum(f => f.Share);
            var cloth = ground.Colour.Name.ToLowerInvariant();
            if (polyester > 0.5)
                yield return new(
                    "jet-on-polyester",
                    FindingWeight.Warning,
                    ArtChecks.Text(
                        $"{cloth} is {100 * polyester:0} % polyester: pigment ink holds on cotton, 50 % of it or more is usual"
                    ),
                    "test-wash a sample with the pretreatment for polyester, watch the white for the cloth's dye, or print another way",
                    Math.Round(100 * polyester),
                    50,
                    "%"
                );
            if (settings.Base == BaseChoice.None && !ClothShows.IsPale(TonalJobs.Cloth(ground)))
                yield return new(
                    "no-white-below",
                    FindingWeight.Warning,
                    $"no white runs on {cloth}: jetted colours hide nothing and take the cloth's colour",
                    "let the white run, or print on white cloth"
                );
        }
    }
}
