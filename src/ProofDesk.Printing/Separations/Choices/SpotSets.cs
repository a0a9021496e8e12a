using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// Two groups of grounds for spot art, parted where their cloths differ most in lightness. One set of plates makes them share inks and base: a colour that one ground leaves to the
/// cloth gets no base on the others, and inks are matched on the hardest of them.
/// </summary>
internal static class SpotSets
{
    /// <summary>A set that comes this near (mean CIEDE2000) on every ground is left alone.</summary>
    private const double Missed = 1.5;

    /// <param name="decide">Inks and base for some of the grounds alone.</param>
    /// <returns>Null for one ground, and where a second set would not be seen.</returns>
    public static SecondSet? Of(
        ImmutableArray<PaletteColour> palette,
        ImmutableArray<Ground> grounds,
        BaseDecision one,
        Func<ImmutableArray<Ground>, BaseDecision> decide,
        Func<Ground, Lab> cloth,
        SpotSettings settings
    )
    {
        if (grounds.Length < 2)
            return null;
        double[] shared = [.. grounds.Select((ground, g) => Mean(palette, one, g, cloth(ground)))];
        // No more can be gained than is missed, and matching inks again takes its time.
        if (shared.Max() < Missed)
            return null;
        ImmutableArray<Ground> order = [.. grounds.OrderBy(g => cloth(g).L)];
        var cut = Enumerable.Range(1, order.Length - 1).MaxBy(i => cloth(order[i]).L - cloth(order[i - 1]).L);
        ImmutableArray<Ground> dark = [.. order.Take(cut)];
        ImmutableArray<Ground> pale = [.. order.Skip(cut)];
        var (first, second) = (decide(dark), decide(pale));
        var set = new SecondSet(
            [.. grounds.Where(pale.Contains)],
            [
                .. grounds.Select(
                    (ground, g) =>
                        new SetGain(
                            ground,
                            shared[g],
                            dark.Contains(ground)
                                ? Mean(palette, first, dark.IndexOf(ground), cloth(ground))
                                : Mean(palette, second, pale.IndexOf(ground), cloth(ground))
                        )
                ),
            ],
            Screens(second, settings)
        );
        return set.BestGain >= SecondSet.WorthSaying ? set : null;
    }

    private static double Mean(ImmutableArray<PaletteColour> palette, BaseDecision decision, int ground, Lab cloth)
    {
        double sum = 0,
            weight = 0;
        foreach (var ink in decision.Inks)
        foreach (var colour in ink.Colours)
        {
            var seen = ink.Prints[ground] ? ink.Printed[ground] : cloth;
            sum += palette[colour].Weight * Ciede2000.Difference(seen, Srgb.ToLab(palette[colour].Linear));
            weight += palette[colour].Weight;
        }
        return weight > 0 ? sum / weight : 0;
    }

    private static int Screens(BaseDecision decision, SpotSettings settings) =>
        (decision.Exists ? 1 : 0)
        + decision.Inks.Count(ink => ink.Prints.Contains(true) && !(ink.IsWhite && decision.CarriesWhite))
        + (settings.HighlightWhite && decision.CarriesWhite ? 1 : 0)
        + (settings.BlockingBase ? 1 : 0);
}
