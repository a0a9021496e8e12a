using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Mixed;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Difficult;

/// <summary>Whether art is flat or painted, as the histogram of its colours shows it.</summary>
/// <param name="Colours">Colours of the palette.</param>
/// <param name="Between">Share of the art that is none of them, 0..1: fades, tints, painting.</param>
/// <param name="Unexplained">Share that not even a blend of two of them is.</param>
/// <param name="Speckled">Share of the flat areas that is a little off their colour.</param>
internal sealed record ArtNature(int Colours, double Between, double Unexplained, double Speckled)
{
    /// <summary>From here on art between its colours is painted, unless a fade between two or three explains it.</summary>
    private const double PaintedShare = 0.35;
    private const double UnexplainedShare = 0.1;
    private const int FewColours = 3;

    /// <summary>Codes off its colour, and share of flat areas that is: a PNG drawn by a program has none.</summary>
    private const int Speck = 3;
    private const double SpeckledShare = 0.03;

    /// <summary>The commonest cells say enough.</summary>
    private const int Enough = 4000;

    public bool IsPainted => Between > PaintedShare && (Colours > FewColours || Unexplained > UnexplainedShare);

    public static ArtNature Of(IReadOnlyList<ColourBin> bins, ImmutableArray<PaletteColour> palette)
    {
        if (palette.IsEmpty)
            return new(0, 0, 0, 0);
        var codes = palette.Select(c => FlatCandidates.Codes(c.Linear)).ToArray();
        var blends = Palette.Blends([.. palette]);
        double all = 0,
            flat = 0,
            specks = 0,
            unexplained = 0;
        foreach (var bin in bins.OrderByDescending(b => b.Along).ThenBy(b => b.Index).Take(Enough))
        {
            all += bin.Along;
            var nearest = Enumerable.Range(0, palette.Length).MinBy(i => palette[i].DistanceTo(bin.Seen));
            if (palette[nearest].DistanceTo(bin.Seen) <= Palette.SameInk)
            {
                flat += bin.Along;
                if (FlatCandidates.Distance(FlatCandidates.Codes(bin.Mean), codes[nearest]) > Speck)
                    specks += bin.Along;
            }
            else if (blends.Min(b => Palette.Distance(b, bin.Seen)) > Palette.SameInk)
                unexplained += bin.Along;
        }
        return all == 0
            ? new(palette.Length, 0, 0, 0)
            : new(palette.Length, 1 - flat / all, unexplained / all, flat == 0 ? 0 : specks / flat);
    }

    public IEnumerable<Finding> Findings(SizedArt art, PrintMethod method, SpotSettings settings)
    {
        if (IsPainted)
            yield return new(
                "painted-art",
                FindingWeight.Warning,
                Text(
                    $"the art is painted: {100 * Between:0} % of it is none of its {Colours} main colours; {method.Id} prints flat colours and fades between two of them"
                ),
                "print it with simulated-process, whose inks are chosen for the picture, or with direct-to-garment; or set the number of inks and judge the proof",
                Math.Round(100 * Between),
                100 * PaintedShare,
                "%"
            );
        else if (settings.Inks.Count is null && Colours >= Palette.Most)
            yield return new(
                "many-colours",
                FindingWeight.Warning,
                $"the art has {Palette.Most} flat colours or more, each of them a screen",
                "set the number of inks, so that like colours share one, or print it with simulated-process or direct-to-garment",
                Colours,
                Palette.Most,
                "inks"
            );
        if (
            !IsPainted
            && Between < PaintedShare / 2
            && Speckled > SpeckledShare
            && art.Findings.All(f => f.Code != "dithered")
        )
            yield return new(
                "speckled",
                FindingWeight.Note,
                Text(
                    $"{100 * Speckled:0} % of the flat areas is more than {Speck} codes off their colour, as compression or a scanner leaves it: the plates take the main colour, but edges stay a little rough"
                ),
                "supply the drawing as svg, or as a png exported from its original",
                Math.Round(100 * Speckled),
                100 * SpeckledShare,
                "%"
            );
    }
}
