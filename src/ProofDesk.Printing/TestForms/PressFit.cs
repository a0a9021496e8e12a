using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// The shop's own press from what it read on its test forms: one set of readings for each mesh and cloth. Each number
/// says what it was found from; what was not read keeps the trade's default and is listed.
/// </summary>
public static class PressFit
{
    /// <exception cref="ReadingsRefused">Some readings cannot be so.</exception>
    public static FittedPress Fit(IReadOnlyList<PressReadings> forms, PressSettings usual, string name)
    {
        var refused = forms
            .SelectMany(f => ReadingChecks.Of(f))
            .Where(f => f.Weight == FindingWeight.Refusal)
            .ToImmutableArray();
        if (forms.All(f => f.IsBlank))
            refused = refused.Add(
                new(
                    "nothing-read",
                    FindingWeight.Refusal,
                    "the sheet has no reading in it",
                    "type what the printed form shows, or give a scan of it"
                )
            );
        if (refused.Length > 0)
            throw new ReadingsRefused(refused);
        var draft = new PressDraft(usual with { Name = name });
        GrowthNumbers.Growth(draft, forms, FormUnder.Cloth);
        GrowthNumbers.Growth(draft, forms, FormUnder.Base);
        RegisterNumbers.Register(draft, forms);
        HeldNumbers.Held(draft, forms);
        DepositNumbers.Deposit(draft, forms);
        DepositNumbers.White(draft, forms);
        return draft.Finish();
    }
}
