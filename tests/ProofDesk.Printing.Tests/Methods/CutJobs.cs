using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>Small jobs of sheets and transfers, from art to picture and files, without a garment's drawing.</summary>
internal static class CutJobs
{
    public static PrintMethod Vinyl { get; } = PrintMethods.Find("vinyl")!;
    public static PrintMethod Transfer { get; } = PrintMethods.Find("plastisol-transfer")!;

    public static Separation SeparationOf(
        this PrintMethod method,
        TestArt art,
        double widthMm,
        params ImmutableArray<Ground> grounds
    ) => method.SeparationOf(art, widthMm, new SpotSettings(), grounds);

    public static Separation SeparationOf(
        this PrintMethod method,
        TestArt art,
        double widthMm,
        SpotSettings settings,
        ImmutableArray<Ground> grounds
    ) => method.Separate(art.Sized(widthMm), method, grounds, settings) with { Press = method.Press };

    public static Films Films(this Separation separation, double dpi = 1440) =>
        FilmMaker.Screen(separation, OutputDevice.Fallback with { XDpi = dpi, YDpi = dpi, Mirror = true });

    public static PrintedCloth Printed(this Separation separation, int ground = 0) =>
        PrintSimulator.Print(
            separation.Films(),
            separation.Grounds[ground],
            PressSettings.Automatic,
            Deposit.Expected,
            ViewingLight.D50,
            1
        );

    /// <summary>A whole proof for what is handed over.</summary>
    public static Proof Prove(this PrintMethod method, TestArt art, double widthMm, Ground ground)
    {
        var sized = art.Sized(widthMm);
        var request = new ProofRequest(sized.Artwork, Placement.Usual(Place.Front, widthMm), method, [ground]);
        var separation = method.SeparationOf(art, widthMm, ground);
        var films = separation.Films();
        ImmutableArray<FilmMeasure> measures = [.. films.Plates.Select(p => FilmMeasure.Of(p, films.Device))];
        var plan = separation.Grounds[0];
        var blank = new RgbPicture(1, 1, 1);
        var inks = InkListMaker.Of(films, measures, plan, request.Press, 100);
        return new(
            request,
            sized,
            separation,
            films,
            measures,
            [new(plan, separation.Printed(), [], [], blank, inks)],
            new("{}", new string('0', 64)),
            separation.Findings
        );
    }

    public static string[] Codes(this Separation separation) => [.. separation.Findings.Select(f => f.Code)];

    public static Finding Finding(this Separation separation, string code) =>
        separation.Findings.First(f => f.Code == code);
}
