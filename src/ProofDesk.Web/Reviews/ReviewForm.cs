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

    /// <summary>What words beside an approval mean: "remark" or "change".</summary>
    public string? Means { get; set; }

    /// <summary>The thing such words mean, when they are a change.</summary>
    public string? MeansThing { get; set; }

    /// <summary>The mailed code, as typed.</summary>
    public string? Code { get; set; }

    /// <summary>When the form was given out, sealed.</summary>
    public string? Opened { get; set; }

    /// <summary>A field and a box that people do not see.</summary>
    public string? Extra { get; set; }
    public bool Trap { get; set; }

    /// <summary>Language the sentences were shown in.</summary>
    public string? Locale { get; set; }

    /// <summary>The answer is about the printed sample.</summary>
    public bool Sample { get; set; }

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
            if (string.IsNullOrWhiteSpace(Comment))
                return;
            if (Means is not ("remark" or "change"))
                state.AddModelError(nameof(Means), ReviewText.ProblemMeans);
            else if (Means == "change" && string.IsNullOrEmpty(MeansThing))
                state.AddModelError(nameof(MeansThing), ReviewText.ProblemMeansThing);
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

    /// <summary>An approval on a condition is a change request that names its thing; nothing is printed on an "if".</summary>
    public void TakeConditionAsChange()
    {
        if (!IsApproval || Means != "change" || string.IsNullOrWhiteSpace(Comment))
            return;
        Choice = "changes";
        Changes = [new ChangeForm { Thing = MeansThing, Words = Comment }];
        (Comment, Means, MeansThing) = (null, null, null);
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
