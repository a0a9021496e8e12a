namespace ProofDesk.Printing.Costs;

/// <summary>
/// Pieces that spoil in a run: 2 to 3 %, one or two at least (common practice); with one, screens get cheaper than jets where the trade says. One number for ink lists, which mix for them,
/// and for the default rate card, which pays for them.
/// </summary>
public static class Spoilage
{
    public const double Share = 0.03;

    public const int AtLeast = 1;

    /// <summary>Pieces that spoil while <paramref name="pieces"/> good ones are made.</summary>
    public static int Of(int pieces, double share = Share, int atLeast = AtLeast) =>
        (int)Math.Max(atLeast, Math.Ceiling(pieces * share));
}
