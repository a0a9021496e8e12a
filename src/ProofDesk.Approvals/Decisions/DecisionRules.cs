using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Decisions;

/// <summary>Why a decision cannot be taken: a stable code and a sentence for the person.</summary>
public sealed record Refusal(string Code, string Text);

/// <summary>What is known of the version and the link at the moment of deciding.</summary>
/// <param name="Manifest">Digest of the version the link leads to.</param>
/// <param name="StatementTexts">Digests of the sentences bound by that version, per locale.</param>
/// <param name="Version">Its number.</param>
/// <param name="Sent">Whether it was sent at all.</param>
/// <param name="SupersededBy">Number of the newer version, or null.</param>
/// <param name="LinkExpires">When the link stops working.</param>
/// <param name="LinkRevoked">Whether the shop called the link back.</param>
/// <param name="Effective">The decision that stands now, or null.</param>
/// <param name="HoldEnds">Until when the standing decision can be withdrawn, or null when it no longer can.</param>
/// <param name="Asked">The evidence an answer must carry.</param>
/// <param name="Code">What became of the code that was typed; null when none was.</param>
public sealed record DecisionContext(
    Sha256Digest Manifest,
    ImmutableSortedDictionary<string, Sha256Digest> StatementTexts,
    int Version,
    bool Sent,
    int? SupersededBy,
    DateTimeOffset LinkExpires,
    bool LinkRevoked,
    StandingDecision? Effective,
    DateTimeOffset? HoldEnds,
    EvidenceLevel Asked = EvidenceLevel.Link,
    CodeTry? Code = null
);

/// <param name="Statement">Digest of its statement.</param>
public sealed record StandingDecision(Sha256Digest Statement, DecisionKind Kind, string Name, DateTimeOffset At);

/// <summary>What makes a decision acceptable. All refusals come at once, in the order a person can mend them.</summary>
public static class DecisionRules
{
    public const int MaxName = 200;
    public const int MaxWords = 4000;
    public const int MaxChanges = 200;

    public static ImmutableArray<Refusal> Judge(DecisionStatement said, DecisionContext context) =>
        [
            .. OfTheLink(said, context),
            .. OfTheVersion(said, context),
            .. OfTheStatement(said),
            .. CodeRules.Judge(said, context),
        ];

    /// <summary>Refusals that the statement alone gives; the verifier of packets asks the same.</summary>
    public static IEnumerable<Refusal> OfTheStatement(DecisionStatement said) =>
        [.. OfTheName(said), .. OfTheAnswer(said), .. OfTheEvidence(said)];

    private static IEnumerable<Refusal> OfTheLink(DecisionStatement said, DecisionContext context)
    {
        var elsewhere = said.Evidence.Level == EvidenceLevel.GivenElsewhere;
        if (context.LinkRevoked && !elsewhere)
        {
            yield return new("link-revoked", "The shop called this link back. Ask the shop for a new one.");
        }

        if (said.At >= context.LinkExpires && !elsewhere)
        {
            yield return new(
                "link-expired",
                $"This link ended on {When(context.LinkExpires)}. Ask the shop for a new one."
            );
        }
    }

    private static IEnumerable<Refusal> OfTheVersion(DecisionStatement said, DecisionContext context)
    {
        if (!context.Sent)
        {
            yield return new(
                "version-not-sent",
                $"Version {context.Version} was not sent yet, so nobody can decide on it."
            );
        }

        if (context.SupersededBy is { } newer)
        {
            yield return new(
                "version-superseded",
                $"Version {newer} has taken the place of version {context.Version}. Open the newest mail and decide on version {newer}."
            );
        }

        if (said.Manifest != context.Manifest)
        {
            yield return new(
                "manifest-stale",
                $"The page you decided on shows proof {said.Manifest.ShortCode}, this link now leads to proof {context.Manifest.ShortCode}. Load the page again and look once more."
            );
        }

        if (!context.StatementTexts.TryGetValue(said.Locale, out var text) || text != said.StatementText)
        {
            yield return new(
                "statement-text-differs",
                $"The sentences shown in language '{said.Locale}' are not those of version {context.Version}. Load the page again."
            );
        }

        foreach (var refusal in said.Kind == DecisionKind.Withdraw ? OfWithdrawal(said, context) : OfStanding(context))
        {
            yield return refusal;
        }
    }

    private static IEnumerable<Refusal> OfStanding(DecisionContext context)
    {
        if (context.Effective is { } standing)
        {
            yield return new(
                "already-decided",
                $"{standing.Name} has already {Did(standing.Kind)} version {context.Version} on {When(standing.At)}."
            );
        }
    }

    private static IEnumerable<Refusal> OfWithdrawal(DecisionStatement said, DecisionContext context)
    {
        if (context.Effective is not { } standing)
        {
            yield return new("nothing-to-withdraw", $"There is no decision on version {context.Version} to take back.");
        }
        else if (said.Withdraws != standing.Statement)
        {
            yield return new(
                "withdraws-another",
                "The decision you want to take back is not the one that stands now. Load the page again."
            );
        }
        else if (context.HoldEnds is not { } end || said.At >= end)
        {
            yield return new(
                "hold-ended",
                "Production may have begun, so the decision can no longer be taken back here. Telephone the shop."
            );
        }
    }

    private static IEnumerable<Refusal> OfTheName(DecisionStatement said)
    {
        if (string.IsNullOrWhiteSpace(said.Name))
        {
            yield return new("name-empty", "Type your name, so that the record says who decided.");
        }
        else if (said.Name.Length > MaxName)
        {
            yield return new(
                "name-too-long",
                $"The name has {said.Name.Length} characters, at most {MaxName} fit the record."
            );
        }

        if (said.Comment?.Length > MaxWords)
        {
            yield return new(
                "comment-too-long",
                $"The comment has {said.Comment.Length} characters, at most {MaxWords} fit the record."
            );
        }
    }

    private static IEnumerable<Refusal> OfTheAnswer(DecisionStatement said)
    {
        if (said.Kind == DecisionKind.Approve)
        {
            foreach (var (ticked, code, what) in Boxes(said.Confirmed))
            {
                if (!ticked)
                {
                    yield return new(code, $"Tick the box for {what}, or ask for changes.");
                }
            }
        }

        if (said.Kind == DecisionKind.Changes && said.Changes.IsEmpty)
        {
            yield return new("no-change-named", "Say at least one thing that shall change.");
        }

        if (said.Kind != DecisionKind.Changes && !said.Changes.IsEmpty)
        {
            yield return new(
                "changes-beside",
                "A list of changes goes with asking for changes only. Approve as is, or ask for changes."
            );
        }

        if (said.Changes.Length > MaxChanges)
        {
            yield return new(
                "too-many-changes",
                $"{said.Changes.Length} changes are named, at most {MaxChanges} fit the record."
            );
        }

        foreach (var change in said.Changes)
        {
            if (string.IsNullOrWhiteSpace(change.Words) || change.Words.Length > MaxWords)
            {
                yield return new(
                    "change-without-words",
                    $"Say in 1 to {MaxWords} characters what shall change about '{change.Thing}' (now {change.Words.Length})."
                );
            }
        }

        if (said.Kind == DecisionKind.Withdraw != said.Withdraws.HasValue)
        {
            yield return new(
                "withdraws-unnamed",
                "A withdrawal names the decision it takes back, and nothing else does."
            );
        }
    }

    private static IEnumerable<Refusal> OfTheEvidence(DecisionStatement said)
    {
        if (said.Evidence.Level == EvidenceLevel.Code && said.Evidence.CodeAt is null)
        {
            yield return new("code-missing", "Type the code from the mail we sent you.");
        }

        if (said.Evidence.Level != EvidenceLevel.Code && said.Evidence.CodeAt is not null)
        {
            yield return new("code-beside", "A code was typed but the decision does not claim one.");
        }

        if ((said.Evidence.Level == EvidenceLevel.GivenElsewhere) != said.Evidence.Elsewhere is not null)
        {
            yield return new(
                "elsewhere-incomplete",
                "A decision given elsewhere says which of the staff wrote it down, how and when it was given; no other decision does."
            );
        }
    }

    private static IEnumerable<(bool Ticked, string Code, string What)> Boxes(Confirmations boxes) =>
        [
            (boxes.Words, "words-unconfirmed", "the words and their spelling"),
            (boxes.SizeAndPlace, "size-and-place-unconfirmed", "size and place"),
            (boxes.GarmentsAndCounts, "garments-unconfirmed", "garments and counts"),
            (boxes.ColoursWithinRange, "colours-unconfirmed", "the colours within their range"),
        ];

    private static string Did(DecisionKind kind) => kind == DecisionKind.Approve ? "approved" : "asked for changes to";

    private static string When(DateTimeOffset time) =>
        time.ToUniversalTime().ToString("d MMMM yyyy HH:mm 'UTC'", CultureInfo.InvariantCulture);
}
