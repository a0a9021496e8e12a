using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Web.Reviews;

/// <summary>What the client's forms carry, the same fields from the first page to the last button.</summary>
public sealed class ReviewForm
{
    /// <summary>"approve" or "changes".</summary>
    public string Choice { get; set; } = "";

    /// <summary>Digest of the manifest the page showed.</summary>
    public string Manifest { get; set; } = "";
    public string Nonce { get; set; } = "";
    public bool Words { get; set; }
    public bool Size { get; set; }
    public bool Garments { get; set; }
    public bool Colours { get; set; }
    public string? Name { get; set; }
    public string? Comment { get; set; }
    public List<ChangeForm> Changes { get; set; } = [];

    public bool IsApproval => Choice == "approve";
    public DecisionKind Kind => IsApproval ? DecisionKind.Approve : DecisionKind.Changes;
    public Confirmations Confirmed => IsApproval ? new(Words, Size, Garments, Colours) : Confirmations.None;

    public IReadOnlyList<ChangeRequest> Requests =>
        IsApproval
            ? []
            : [.. Changes.Where(c => c.IsFilled).Select(c => new ChangeRequest(c.Thing ?? "", c.Words!.Trim()))];

    /// <summary>What is missing, said before the last look so that nobody meets it at the last button.</summary>
    public void Check(ModelStateDictionary state)
    {
        if (string.IsNullOrWhiteSpace(Name))
            state.AddModelError(nameof(Name), ReviewText.ProblemName);
        if (IsApproval)
        {
            foreach (var (ticked, field, text) in Ticks)
            {
                if (!ticked)
                    state.AddModelError(field, text);
            }
            return;
        }
        if (!Changes.Exists(c => c.IsFilled))
            state.AddModelError("Changes[0].Words", ReviewText.ProblemNothing);
        for (var i = 0; i < Changes.Count; i++)
        {
            if (Changes[i].IsFilled && string.IsNullOrEmpty(Changes[i].Thing))
                state.AddModelError($"Changes[{i}].Thing", ReviewText.ProblemThing);
        }
    }

    private ImmutableArray<(bool Ticked, string Field, string Text)> Ticks =>
        [
            (Words, nameof(Words), ReviewText.Problem1Words),
            (Size, nameof(Size), ReviewText.Problem2Size),
            (Garments, nameof(Garments), ReviewText.Problem3Garments),
            (Colours, nameof(Colours), ReviewText.Problem4Colours),
        ];
}

public sealed class ChangeForm
{
    public string? Thing { get; set; }
    public string? Words { get; set; }
    public bool IsFilled => !string.IsNullOrWhiteSpace(Words);
}
