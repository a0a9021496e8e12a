using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Web.Reviews;

/// <summary>What the client's forms carry, the same fields from the first page to the last button.</summary>
public sealed class ReviewForm
{
    public const int MostSpots = 20;

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

    /// <summary>Spots on pictures that something is said about.</summary>
    public List<SpotForm> Spots { get; set; } = [];

    /// <summary>Lines of the roster that were ticked, from 0.</summary>
    public List<int> Roster { get; set; } = [];

    /// <summary>The form is to be shown again as it is: to go back, for another language, or for a spot.</summary>
    public bool Back { get; set; }

    /// <summary>The print that gets one more row for a spot.</summary>
    public string? MoreSpots { get; set; }

    /// <summary>A thing whose field is open when the form is shown.</summary>
    public string? Thing { get; set; }

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
            :
            [
                .. Changes.Where(c => c.IsFilled).Select(c => new ChangeRequest(c.Thing ?? "", c.Words!.Trim())),
                .. Spots.Where(s => s.IsFilled).Select(s => new ChangeRequest(s.Thing, s.Words!.Trim())),
            ];

    /// <summary>What is missing, said before the last look so that nobody meets it at the last button.</summary>
    /// <param name="rosterLines">lines of the version's roster, each to be ticked</param>
    public void Check(ModelStateDictionary state, int rosterLines)
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
            if (MissingRoster(rosterLines) is { Count: > 0 } missing)
                state.AddModelError(nameof(Roster), ReviewText.ProblemRoster(missing.Count, missing[0] + 1));
            if (string.IsNullOrWhiteSpace(Comment))
                return;
            if (Means is not ("remark" or "change"))
                state.AddModelError(nameof(Means), ReviewText.ProblemMeans);
            else if (Means == "change" && string.IsNullOrEmpty(MeansThing))
                state.AddModelError(nameof(MeansThing), ReviewText.ProblemMeansThing);
            return;
        }
        if (!Changes.Exists(c => c.IsFilled) && !Spots.Exists(s => s.IsFilled))
            state.AddModelError("Changes[0].Words", ReviewText.ProblemNothing);
        for (var i = 0; i < Changes.Count; i++)
        {
            if (Changes[i].IsFilled && string.IsNullOrEmpty(Changes[i].Thing))
                state.AddModelError($"Changes[{i}].Thing", ReviewText.ProblemThing);
        }
        for (var i = 0; i < Spots.Count; i++)
            Spots[i].Check(state, $"Spots[{i}]");
    }

    /// <summary>Lines of the roster that nobody ticked, from 0.</summary>
    public IReadOnlyList<int> MissingRoster(int lines) => [.. Enumerable.Range(0, lines).Except(Roster)];

    /// <summary>An approval on a condition is a change request that names its thing; nothing is printed on an "if".</summary>
    public void TakeConditionAsChange()
    {
        if (!IsApproval || Means != "change" || string.IsNullOrWhiteSpace(Comment))
            return;
        Choice = "changes";
        Changes = [new ChangeForm { Thing = MeansThing, Words = Comment }];
        (Comment, Means, MeansThing, Spots) = (null, null, null, []);
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

/// <summary>A spot on the picture of a print, for what has no name of its own.</summary>
public sealed class SpotForm
{
    /// <summary>Name of the print, as the record names it.</summary>
    public string? Print { get; set; }

    /// <summary>Mm right of the middle of the print's upper edge, and below it, as typed.</summary>
    public string? Right { get; set; }
    public string? Down { get; set; }
    public string? Words { get; set; }

    /// <summary>Where the picture was pressed; browsers send it when the picture is the button.</summary>
    public SpotTap? Tap { get; set; }

    public bool IsFilled => !string.IsNullOrWhiteSpace(Words);

    public string Thing => ReviewThings.Spot(Print ?? "", Millimetres(Right) ?? 0, Millimetres(Down) ?? 0);

    public void Check(ModelStateDictionary state, string field)
    {
        foreach (var (name, typed) in new[] { (nameof(Right), Right), (nameof(Down), Down) })
        {
            if (Millimetres(typed) is null && (IsFilled || !string.IsNullOrWhiteSpace(typed)))
                state.AddModelError($"{field}.{name}", ReviewText.ProblemSpot);
        }
        if (!IsFilled && !(string.IsNullOrWhiteSpace(Right) && string.IsNullOrWhiteSpace(Down)))
            state.AddModelError($"{field}.{nameof(Words)}", ReviewText.ProblemSpotWords);
    }

    private static double? Millimetres(string? typed) =>
        double.TryParse(
            typed?.Trim().Replace(',', '.'),
            NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture,
            out var mm
        )
        && Math.Abs(mm) <= MostMm
            ? mm
            : null;

    private const double MostMm = 2000;
}

/// <param name="X">Pixels from the left of the picture as it stood on the page.</param>
public sealed record SpotTap(int? X, int? Y);
