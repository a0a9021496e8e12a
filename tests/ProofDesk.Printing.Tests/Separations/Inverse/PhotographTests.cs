using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>
/// Photographs nobody of us took, from art to printed film bits: the mean of a few halftone cells is what the gamut mapping asked
/// for. Each is a part of 600 x 450 px printed 40 mm wide.
/// </summary>
public sealed class PhotographTests
{
    /// <summary>
    /// What is reached on the usual pictures of each method. Independent screens come within 1.5; screens of one angle in perfect register do not
    /// yet, as nested areas have kinks in which the search for coverages stops early: their bounds are what is measured.
    /// </summary>
    public static TheoryData<string, string, string, double, bool> Prints
    {
        get
        {
            var prints = new TheoryData<string, string, string, double, bool>
            {
                { "grand_canyon_1.jpg", "four-colour-process", "white", 1.5, true },
                { "grand_canyon_1.jpg", "direct-to-garment", "black", 1.5, true },
                { "grand_canyon_1.jpg", "simulated-process", "black", 2.2, true },
                { "donna.jpg", "four-colour-process", "black", 1.8, true },
            };
            foreach (var picture in new[] { "grand_canyon_1.jpg", "donna.jpg", "sunset.jpg", "snow.jpg", "skagen.jpg" })
            foreach (var ground in new[] { "black", "white", "red" })
            {
                prints.Add(picture, "direct-to-garment", ground, 2, false);
                prints.Add(picture, "four-colour-process", ground, 2.3, false);
            }
            return prints;
        }
    }

    [SkippableTheory]
    [MemberData(nameof(Prints))]
    public void A_photograph_prints_as_near_to_what_is_wanted_as_its_method_can(
        string picture,
        string methodId,
        string groundName,
        double bound,
        bool usual
    )
    {
        Skip.IfNot(usual || Photographs.Long, "34 prints take minutes: PROOFDESK_LONG=1");
        var art = Photographs.Crop(picture, 100, 60, 600, 450, 400);
        var settings = new SpotSettings { Press = PressBench.Still };

        var print = PictureRoundTrip.Of(art, Job(methodId, Ground(groundName), settings, art), settings.Press, 1);

        Assert.True(print.Squares.Length > 30, $"{print.Squares.Length} squares in gamut");
        Assert.True(
            print.Mean < bound,
            $"mean {print.Mean:0.00}, of that solved {print.MeanSolved:0.00}, 95 % {print.NinetyFifth:0.00}, drift {print.Drift}"
        );
    }

    // Screens of one angle change colour as register moves; the plates are made for the mean of many shirts.
    [SkippableFact]
    public void With_the_register_of_the_trade_prints_scatter_around_what_is_wanted()
    {
        Skip.IfNot(Photographs.Long, "a dozen prints take half a minute: PROOFDESK_LONG=1");
        var art = Photographs.Crop("grand_canyon_1.jpg", 100, 60, 600, 450, 400);
        var settings = new SpotSettings();

        var print = PictureRoundTrip.Of(
            art,
            Job("simulated-process", TestGrounds.Black, settings, art),
            settings.Press,
            [.. Enumerable.Range(1, 12).Select(i => (ulong)i)]
        );

        Assert.True(print.Mean < 1.9, $"mean {print.Mean:0.00}, solved {print.MeanSolved:0.00}, drift {print.Drift}");
    }

    private static Ground Ground(string name) =>
        name switch
        {
            "black" => TestGrounds.Black,
            "white" => TestGrounds.White,
            _ => TestGrounds.Red,
        };

    private static TonalJob Job(
        string methodId,
        Ground ground,
        SpotSettings settings,
        ProofDesk.Printing.Artworks.SizedArt art
    )
    {
        var method = PrintMethods.Find(methodId)!;
        return methodId switch
        {
            "simulated-process" => SimulatedProcess.Job(
                method,
                [ground],
                settings,
                SimulatedProcess.Choose(ToneHistogram.Of(art.Pixels), method, [ground], settings, 6)
            ),
            "four-colour-process" => FourColourProcess.Job(method, [ground], settings),
            _ => DirectToGarment.Job(method, [ground], settings),
        };
    }
}
