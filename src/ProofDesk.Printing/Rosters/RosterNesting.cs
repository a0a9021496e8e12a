using System.Collections.Immutable;

namespace ProofDesk.Printing.Rosters;

/// <summary>A block and where it lies on its sheet, mm.</summary>
public sealed record NestedBlock(RosterBlock Block, double X, double Y);

/// <summary>Blocks on one length of sheet.</summary>
public sealed record NestedSheet(ImmutableArray<NestedBlock> Blocks, double WidthMm, double HeightMm);

/// <summary>
/// Lays blocks out on sheets of a width: shelves, the highest blocks first, each on the first shelf with room
/// (first fit decreasing height, Coffman et al. 1980). Room for a label under each.
/// </summary>
public static class RosterNesting
{
    public const double MarginMm = 10;
    public const double GapMm = 8;
    public const double LabelMm = 5;

    /// <summary>A length that cutters and screens take (a proposal).</summary>
    public const double LongestMm = 1000;

    public static ImmutableArray<NestedSheet> Of(ImmutableArray<RosterPiece> pieces, double sheetWidthMm)
    {
        var blocks = pieces.SelectMany(p => p.Blocks).OrderByDescending(b => b.HeightMm).ThenBy(b => b.Entry.Line);
        var shelves = new List<(double Height, double Used, List<(RosterBlock Block, double X)> Blocks)>();
        foreach (var block in blocks)
        {
            var fits = shelves.FindIndex(s => s.Used + block.WidthMm <= sheetWidthMm - MarginMm);
            if (fits < 0)
            {
                fits = shelves.Count;
                shelves.Add((block.HeightMm, MarginMm, []));
            }
            var shelf = shelves[fits];
            shelf.Blocks.Add((block, shelf.Used));
            shelves[fits] = shelf with { Used = shelf.Used + block.WidthMm + GapMm };
        }
        var sheets = ImmutableArray.CreateBuilder<NestedSheet>();
        var placed = ImmutableArray.CreateBuilder<NestedBlock>();
        var y = MarginMm;
        foreach (var shelf in shelves)
        {
            if (placed.Count > 0 && y + shelf.Height + LabelMm + MarginMm > LongestMm)
                Close();
            placed.AddRange(shelf.Blocks.Select(b => new NestedBlock(b.Block, b.X, y)));
            y += shelf.Height + LabelMm + GapMm;
        }
        Close();
        return sheets.ToImmutable();

        void Close()
        {
            sheets.Add(new(placed.ToImmutable(), sheetWidthMm, y - GapMm + MarginMm));
            placed.Clear();
            y = MarginMm;
        }
    }
}
