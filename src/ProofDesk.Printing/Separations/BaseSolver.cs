using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Draws the base: under every colour that needs it, in proportion under tints, slightly under dark keys, choked everywhere else, without
/// freckles; the art's own white on the same screen keeps its full size.
/// </summary>
internal static class BaseSolver
{
    /// <summary>Smallest island and hole of a base (common practice).</summary>
    private const double FreckleMm = 0.5;

    /// <param name="underColours">Shares of all colours that lie on the base.</param>
    /// <param name="white">Shares of the art's white, when this screen prints it; otherwise null.</param>
    /// <param name="keys">Shares of dark keys under which the base may run.</param>
    /// <param name="covered">Shares of everything printed over it on every ground where it runs: holes there may close.</param>
    public static PlateDrawing Draw(
        BytePlane underColours,
        BytePlane? white,
        BytePlane keys,
        BytePlane covered,
        ArtShares shares,
        SpotSettings settings,
        double pixelsPerMm
    )
    {
        var (width, height) = (keys.Width, keys.Height);
        var all = white is null ? underColours : PlateDrawing.Sum([underColours, white], width, height);
        var drawing = PlateDrawing.From(all, shares.Fade, shares.HasFades);
        var under = Traps.SpreadUnder(drawing.Shape, keys, settings.TrapMm + settings.ChokeMm, pixelsPerMm);
        var choked = Choke.Yielding(under, settings.ChokeMm, pixelsPerMm);
        TakeFreckles(choked, covered, white, FreckleMm * pixelsPerMm);
        if (white is not null)
            KeepWhite(choked, white, drawing.Shape);
        return drawing with { Shape = choked };
    }

    private static void TakeFreckles(BytePlane drawing, BytePlane covered, BytePlane? white, double smallest)
    {
        var islands = Islands.Find(drawing);
        if (islands.All.Any(Small))
            islands.Paint(drawing, 0, i => Small(i) && !Holds(white, i));
        var holes = Islands.Find(drawing, ink: false);
        if (holes.All.Any(Small))
            holes.Paint(drawing, 255, i => Small(i) && !i.TouchesBorder && Holds(covered, i, everywhere: true));

        bool Small(Island island) => island.Width < smallest && island.Height < smallest;
    }

    private static bool Holds(BytePlane? plane, Island island, bool everywhere = false)
    {
        if (plane is null)
            return false;
        for (var y = island.Top; y <= island.Bottom; y++)
        for (var x = island.Left; x <= island.Right; x++)
            if (plane[x, y] >= 128 != everywhere)
                return !everywhere;
        return everywhere;
    }

    /// <summary>Where the base is the art's white it is seen, so nothing of it is choked away.</summary>
    private static void KeepWhite(BytePlane choked, BytePlane white, BytePlane drawing) =>
        RowLoop.Run(
            choked.Height,
            choked.Width,
            y =>
            {
                var row = choked.Row(y);
                var own = white.Row(y);
                var outline = drawing.Row(y);
                for (var x = 0; x < row.Length; x++)
                {
                    if (own[x] == 0)
                        continue;
                    // Next to a colour the shares of a pixel add up to the outline; next to the cloth they are it.
                    row[x] = Math.Max(row[x], own[x] >= 128 || row[x] >= 128 ? outline[x] : own[x]);
                }
            }
        );
}
