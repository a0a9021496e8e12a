using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Comparisons;

/// <summary>What the picture of one cell cannot show, as far as it was measured.</summary>
public static class NotOnScreen
{
    /// <summary>For every cell of every sheet: no screen shows these.</summary>
    public const string Always =
        "No screen shows how a print feels, how it gleams when it moves, how it stretches and what is left of it after washing. Colours are computed for daylight (D65); every screen shows them a little differently.";

    /// <summary>From this share of the picture on it is worth a sentence.</summary>
    private const double WorthSayingShare = 0.005;

    /// <summary>Differences in deposit below this are seen by nobody.</summary>
    private const double WorthSayingDe00 = 1;

    public static IEnumerable<string> Of(GroundProof ground)
    {
        var shown = ground.Expected;
        if (shown.OutOfGamutShare >= WorthSayingShare)
            yield return FormattableString.Invariant(
                $"{100 * shown.OutOfGamutShare:0.#} % of the picture is more colourful on cloth than a screen can be, by up to {shown.OutOfGamutMaxDeltaE:0.#} dE00"
            );
        if (shown.Mirror is not null)
            yield return "it mirrors: the picture is one moment under one light";
        if (ground.InkList.Rows.Any(row => row.DaysLaterLab is not null))
            yield return "dye of the cloth wanders into the ink for days; the picture is of the first day";
        var span = ground.InkList.Rows.Select(row => row.SpanDeltaE00).DefaultIfEmpty().Max();
        if (span >= WorthSayingDe00)
            yield return FormattableString.Invariant(
                $"between a light and a heavy deposit its solids differ by up to {span:0.#} dE00; the picture is the middle"
            );
    }
}
