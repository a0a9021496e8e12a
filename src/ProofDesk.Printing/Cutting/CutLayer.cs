using System.Collections.Immutable;

namespace ProofDesk.Printing.Cutting;

/// <summary>One piece of a sheet: what stays in one when the waste is pulled off.</summary>
/// <param name="LiesInHole">An island: it stands inside an opening of another piece.</param>
public sealed record CutPiece(Contour Outline, ImmutableArray<Contour> Holes, bool LiesInHole)
{
    public Box Box => Outline.Box;
    public double AreaMm2 => Outline.AreaMm2 - Holes.Sum(h => h.AreaMm2);
    public double CutMm => Outline.LengthMm + Holes.Sum(h => h.LengthMm);
}

/// <summary>Pieces so near to each other that they are weeded and laid on one carrier.</summary>
public sealed record CutGroup(ImmutableArray<CutPiece> Pieces, Box Box);

/// <summary>All pieces of one colour.</summary>
public sealed record CutLayer(ImmutableArray<CutGroup> Groups)
{
    /// <summary>Pieces nearer than this share a carrier; the weeding box stands half of it outside.</summary>
    public const double GroupGapMm = 10;

    public IEnumerable<CutPiece> Pieces => Groups.SelectMany(g => g.Pieces);

    /// <summary>Outlines sorted into pieces, pieces into groups; in reading order.</summary>
    public static CutLayer Of(ImmutableArray<Contour> contours)
    {
        var outlines = contours.Where(c => !c.IsHole).ToArray();
        var holes = contours.Where(c => c.IsHole).Select(c => (Contour: c, c.Box)).ToArray();
        var boxes = outlines.Select(o => o.Box).ToArray();
        var areas = outlines.Select(o => o.AreaMm2).ToArray();
        var held = outlines.Select(_ => ImmutableArray.CreateBuilder<Contour>()).ToArray();
        foreach (var (hole, box) in holes)
        {
            // The smallest outline around it: outlines do not cross.
            var owner = Enumerable
                .Range(0, outlines.Length)
                .Where(i => boxes[i].Touches(box, 0) && outlines[i].Holds(hole.Points[0]))
                .OrderBy(i => areas[i])
                .FirstOrDefault(-1);
            if (owner >= 0)
                held[owner].Add(hole);
        }
        var pieces = outlines.Select(
            (outline, i) =>
                new CutPiece(
                    outline,
                    held[i].ToImmutable(),
                    holes.Any(h => h.Box.Touches(boxes[i], 0) && h.Contour.Holds(outline.Points[0]))
                )
        );
        return new(Grouped(pieces.ToList()));
    }

    private static ImmutableArray<CutGroup> Grouped(List<CutPiece> pieces)
    {
        var groups = new List<(List<CutPiece> Pieces, Box Box)>();
        foreach (var piece in pieces)
        {
            var (members, box) = (new List<CutPiece> { piece }, piece.Box);
            // A group that grew may now reach others.
            for (var i = 0; i < groups.Count; )
                if (groups[i].Box.Touches(box, GroupGapMm))
                {
                    members.AddRange(groups[i].Pieces);
                    box = box.With(groups[i].Box);
                    groups.RemoveAt(i);
                    i = 0;
                }
                else
                    i++;
            groups.Add((members, box));
        }
        return
        [
            .. groups
                .OrderBy(g => Math.Round(g.Box.Top / 10))
                .ThenBy(g => g.Box.Left)
                .Select(g => new CutGroup([.. g.Pieces.OrderBy(p => p.Box.Top).ThenBy(p => p.Box.Left)], g.Box)),
        ];
    }
}
