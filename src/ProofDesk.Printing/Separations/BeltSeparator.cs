using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Spot colours for a belt: trapped for the belt's own drift, no base because nothing is flashed in between, few colours
/// because each drifts against the others.
/// </summary>
public static class BeltSeparator
{
    /// <summary>Four colours are about the end (common practice).</summary>
    public const int UsualColours = 4;

    /// <summary>A belt with more heads is not seen in a shop, and the drift would show everywhere (a proposal).</summary>
    public const int MostColours = 6;

    /// <summary>What the screens of a belt cover (common practice).</summary>
    private const double BeltWidthMm = 1600;
    private const double BeltLengthMm = 1200;

    private const double DeviceDpi = 480;

    /// <summary>Screens of a metre and more are exposed coarser; edges still move by less than the cloth's own yarn.</summary>
    public static OutputDevice Device(OutputDevice shop) =>
        shop.Replaced(shop.Name, Math.Min(DeviceDpi, shop.XDpi), Math.Min(DeviceDpi, shop.YDpi));

    public static PrintMethod Method { get; } =
        new(
            "all-over-belt",
            "All-over belt print, water-based",
            InkKind.WaterBased,
            InkKind.HighSolidsWaterBased,
            "whole garments under wide screens on a belt: few colours, bare seams, each garment a little different",
            "dryers and additives can burn and irritate, belts catch hands and cloth; guard, ventilate, follow the ink supplier's sheet and local rules, and test-wash before the run"
        )
        {
            Separate = Separate,
            Press = new BeltPress(),
            Rules = new() { HasBase = false, HasTones = false },
            AllOver = new(50, Always: true, "a garment lies within 5 to 15 mm of its place on the belt"),
            Device = Device,
            Production = PanelFiles.OfBelt,
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var belt = method.Press.Settings(settings.Press);
        var separation = SpotSeparator.Separate(
            art,
            method,
            grounds,
            settings with
            {
                Press = belt,
                LargestWidthMm = BeltWidthMm,
                LargestHeightMm = BeltLengthMm,
                Heads = settings.Heads ?? MostColours,
            }
        );
        return separation with
        {
            Findings =
            [
                .. separation.Findings,
                .. settings.Base is BaseChoice.White or BaseChoice.Discharge
                    ? [NoBase(method)]
                    : Enumerable.Empty<Finding>(),
                .. Colours(separation.Plates.Length, belt),
                .. Touching(separation, belt),
                Coarse(),
            ],
        };
    }

    private static Finding NoBase(PrintMethod method) =>
        new(
            "base-not-of-this-method",
            FindingWeight.Refusal,
            $"{method.Id} has no base: nothing is flashed between the screens of a belt",
            "choose base auto or none on a pale garment; on a dark garment choose another method"
        );

    private static IEnumerable<Finding> Colours(int colours, PressSettings belt)
    {
        if (colours > MostColours)
            yield return new(
                "too-many-colours-for-belt",
                FindingWeight.Refusal,
                $"the art needs {colours} colours and a belt prints {MostColours} at the very most: every colour drifts against all others",
                $"reduce it to {UsualColours} colours or fewer, or print it by sublimation or cut and sew",
                colours,
                MostColours,
                "inks"
            );
        else if (colours >= UsualColours)
            yield return new(
                "many-colours-on-belt",
                FindingWeight.Warning,
                Text(
                    $"{colours} colours on a belt, where {UsualColours} are about the end: each drifts by {RegisterError.Sigma(belt):0.0} mm (one sigma) against the others"
                ),
                "use fewer colours, or art in which colours need not meet",
                colours,
                UsualColours,
                "inks"
            );
    }

    private static IEnumerable<Finding> Touching(Separation separation, PressSettings belt)
    {
        var (contact, open) = Contact.Between(separation);
        if (contact < LeastContactMm)
            yield break;
        var sigma = RegisterError.Sigma(belt);
        var slack = Math.Ceiling(2.5 * sigma * 2) / 2;
        yield return new(
            "colours-touch",
            FindingWeight.Warning,
            Text(
                $"colours touch along {contact / 1000:0.0} m of the art, {open / 1000:0.0} m of it without overlap; a belt drifts by {sigma:0.0} mm (one sigma), so they part or overlap visibly"
            ),
            Text(
                $"leave {slack:0.0} mm of cloth between colours, or let the lighter run {slack:0.0} mm under the darker"
            ),
            Math.Round(contact / 1000, 1),
            0,
            "m"
        );
    }

    private static Finding Coarse() =>
        new(
            "coarse-films",
            FindingWeight.Note,
            Text(
                $"the art was rasterised at {AllOverArt.FinestDpi:0} dpi and the screens at {DeviceDpi:0}: a whole garment, coarser than a placed print"
            ),
            "nothing; keep lines above 0.5 mm"
        );

    private const double LeastContactMm = 20;
}
