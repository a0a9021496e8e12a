using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Light on the edges of sheets: an edge as high as the sheet, pressed round over about its own thickness, is a slope in
/// the light of the studio (upper left). It catches light on one side and turns from it on the other, so a sheet of 85
/// um is a thin line, bright above and to the left of a shape, dark below and to the right; a flat place keeps its colour.
/// </summary>
internal static class EdgeLight
{
    /// <summary>An edge is round over about so much.</summary>
    private const double RoundUm = 100;

    /// <param name="rows">Neighbouring rows, the middle one is drawn.</param>
    /// <param name="cellUm">Width of a cell.</param>
    /// <param name="leaving">X, Y, Z of the row's light.</param>
    public static void Fall(ReadOnlySpan<(BandRows Band, int Row)> rows, double cellUm, float[][] leaving)
    {
        var middle = rows.Length / 2;
        var reach = Math.Max(1, (int)Math.Round(RoundUm / 2 / cellUm));
        var down = Math.Min(reach, middle);
        var here = rows[middle].Band.HeightRow(rows[middle].Row);
        var above = rows[middle - down].Band.HeightRow(rows[middle - down].Row);
        var below = rows[middle + down].Band.HeightRow(rows[middle + down].Row);
        for (var x = 0; x < here.Length; x++)
        {
            var left = here[Math.Max(0, x - reach)];
            var right = here[Math.Min(here.Length - 1, x + reach)];
            if (left == right && above[x] == below[x])
                continue;
            var slopeX = (right - left) / (2 * reach * cellUm);
            var slopeY = down == 0 ? 0 : (below[x] - above[x]) / (2 * down * cellUm);
            var shade = (float)StudioLight.Of(slopeX, slopeY, 0).Shade;
            foreach (var channel in leaving)
                channel[x] *= shade;
        }
    }
}
