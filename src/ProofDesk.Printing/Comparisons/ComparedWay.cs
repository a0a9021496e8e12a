using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Comparisons;

/// <summary>One row of a compare sheet: a method, and how many inks it is held to.</summary>
/// <param name="Inks">Exactly so many colours, whites under them apart; null = as many as the art or the method has.</param>
public sealed record ComparedWay(PrintMethod Method, int? Inks)
{
    public string Name => NameOf(Method.Name, Inks);

    /// <summary>"Screen print, plastisol, 3 colours".</summary>
    public static string NameOf(string method, int? inks) =>
        inks is { } count ? $"{method}, {count} {(count == 1 ? "colour" : "colours")}" : method;

    /// <summary>Whether the number of inks is a choice: process colours, jets and dyes print in their own, always.</summary>
    public static bool TakesCount(PrintMethod method) =>
        method.InkFreedom == InkFreedom.Chosen || method.ColourInk is InkKind.Sheet or InkKind.Foil or InkKind.Metallic;
}

/// <summary>One proof of a compare sheet. Its screens are made for its own ground alone.</summary>
/// <param name="Position">Row by row from the top left, from 0.</param>
public sealed record ComparedCell(int Position, ComparedWay Way, Ground Ground);

/// <summary>Which methods, counts of inks and grounds stand on a sheet, and in which order.</summary>
public sealed record ComparisonPlan(ImmutableArray<ComparedWay> Ways, ImmutableArray<Ground> Grounds)
{
    /// <summary>A proof takes seconds; more than this many is a night's work and no sheet anybody reads.</summary>
    public const int MostCells = 120;

    public int Count => Ways.Length * Grounds.Length;

    public ImmutableArray<ComparedCell> Cells =>
        [
            .. Ways.SelectMany(way => Grounds.Select(ground => (way, ground)))
                .Select((cell, position) => new ComparedCell(position, cell.way, cell.ground)),
        ];

    /// <summary>
    /// Each method with each count; a method whose inks are its own gets one row whatever counts are asked for, so no proof is
    /// made twice.
    /// </summary>
    /// <param name="counts">Null = as many as the art has; empty is the same.</param>
    public static ComparisonPlan Of(
        IEnumerable<PrintMethod> methods,
        IEnumerable<int?> counts,
        IEnumerable<Ground> grounds
    )
    {
        int?[] asked = [.. counts.Distinct().OrderBy(count => count ?? 0)];
        if (asked.Length == 0)
            asked = [null];
        return new(
            [
                .. methods
                    .Distinct()
                    .SelectMany(method =>
                        ComparedWay.TakesCount(method)
                            ? asked.Select(count => new ComparedWay(method, count))
                            : [new ComparedWay(method, null)]
                    ),
            ],
            [.. grounds.DistinctBy(ground => ground.Id)]
        );
    }
}
