using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Advice;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Advice;

/// <param name="Position">Of the print in the order, from 0.</param>
/// <param name="Cloth">Another cloth than the order's; null for those it has.</param>
/// <param name="Methods">In their order: can, can with a caution, cannot.</param>
public sealed record AdvicePage(
    Order Order,
    ProofOrder Asked,
    ProofOrderPrint Print,
    int Position,
    int Pieces,
    Ground? Cloth,
    ImmutableArray<Ground> Cloths,
    MethodStudy Study,
    ImmutableArray<MethodAdvice> Methods,
    string Currency
)
{
    public IEnumerable<IGrouping<Standing, MethodAdvice>> Groups => Methods.GroupBy(m => m.Standing);

    /// <summary>What is true of the art whatever the method, told once; and how many colours a spot method finds in it.</summary>
    public IReadOnlyList<Finding> OfArt =>
        [.. Study.Trials.SelectMany(t => t.OfArt).Distinct().OrderByDescending(f => f.Weight)];

    public int Colours => Study.Trials.FirstOrDefault(t => t.Method.Id == "plastisol")?.Colours ?? 0;

    /// <summary>The cloths that are asked about, in words.</summary>
    public string OnWords =>
        Cloth is { } one
            ? $"{one.Garment.Name}, {one.Colour.Name}"
            : string.Join(
                "; ",
                Asked
                    .Lines.Select(l => Cloths.FirstOrDefault(g => g.Id == $"{l.GarmentId}/{l.ColourId}"))
                    .OfType<Ground>()
                    .Distinct()
                    .Select(g => $"{g.Garment.Name}, {g.Colour.Name}")
            );

    /// <summary>What must be read of a method: what stops it, the first cautions and its cost; the rest is one press away.</summary>
    public static IReadOnlyList<Reason> First(MethodAdvice method) =>
        [
            .. method.Reasons.Where(r => r.Standing != Standing.Can).Take(MostFirst),
            .. method.Reasons.Where(r =>
                r.Standing == Standing.Can && r.Source.StartsWith("rate card", StringComparison.Ordinal)
            ),
        ];

    private const int MostFirst = 3;

    public static string Head(Standing standing) =>
        standing switch
        {
            Standing.Can => "Can",
            Standing.CanWithCaution => "Can, with a caution",
            _ => "Cannot",
        };

    public static string Tone(Standing standing) =>
        standing switch
        {
            Standing.Can => "good",
            Standing.CanWithCaution => "wait",
            _ => "stop",
        };

    public static string Word(Standing standing) =>
        standing switch
        {
            Standing.Can => "fact",
            Standing.CanWithCaution => "caution",
            _ => "stops it",
        };
}
