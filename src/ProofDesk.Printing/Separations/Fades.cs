using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// A fade from one ink into a deeper one of its kind (yellow into gold, orange into red, any colour into black): the lighter
/// ink runs on solid and the deeper one's dots print over it (common practice). Two tints at one angle would lie dot
/// on dot and leave the base or the cloth bare between them.
/// </summary>
internal static class Fades
{
    private const double SameKindDegrees = 70;

    /// <summary>Printed over <paramref name="lighter"/>, <paramref name="deeper"/> keeps its own colour.</summary>
    public static bool Deepens(ArtInk deeper, ArtInk lighter)
    {
        if (
            !SpotSeparator.Covers(deeper, lighter)
            || lighter.IsWhite
            || deeper.IsWhite
            || deeper.Wanted.L > lighter.Wanted.L
        )
            return false;
        if (ClothShows.IsNearBlack(deeper.Wanted))
            return true;
        if (deeper.Wanted.Chroma < 9 || lighter.Wanted.Chroma < 9)
            return deeper.Wanted.Chroma < 9 == lighter.Wanted.Chroma < 9;
        var turn = Math.Abs(
            Math.Atan2(deeper.Wanted.B, deeper.Wanted.A) - Math.Atan2(lighter.Wanted.B, lighter.Wanted.A)
        );
        return Math.Min(turn, 2 * Math.PI - turn) * 180 / Math.PI <= SameKindDegrees;
    }

    /// <summary>The lighter ink's share, and where it fades into the deeper ones theirs as well.</summary>
    public static BytePlane RunUnder(BytePlane own, BytePlane deeper, ArtShares shares)
    {
        if (!shares.HasFades)
            return own;
        var result = new BytePlane(own.Width, own.Height);
        RowLoop.Run(
            own.Height,
            own.Width,
            y =>
            {
                var from = own.Row(y);
                var over = deeper.Row(y);
                var soft = shares.Fade.Row(y);
                var to = result.Row(y);
                for (var x = 0; x < to.Length; x++)
                    to[x] = soft[x] != 0 && from[x] != 0 ? (byte)Math.Min(255, from[x] + over[x]) : from[x];
            }
        );
        return result;
    }
}
