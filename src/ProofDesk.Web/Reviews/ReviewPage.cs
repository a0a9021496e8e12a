using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Reviews;

/// <summary>A version as its client sees it.</summary>
public sealed record ReviewPage(Review Review, ReadVersion Read, ReviewForm Form, Garments Garments)
{
    public const int ChangeRows = 3;

    public string Here => $"/review/{Review.Invitation.Id}";
    public ProofOrder Order => Read.Order;
    public int Number => Read.Version.Number;
    public string Manifest => Read.Version.ManifestSha256!;

    /// <summary>The sentences in the language of the link, where the version has them.</summary>
    public string Statement =>
        Read.Version.StatementTexts.TryGetValue(Review.Invitation.Locale, out var own)
            ? own
            : Read.Version.StatementTexts.GetValueOrDefault("en", "");

    public bool CanDecide =>
        Review.Decision is null
        && (
            Review.Invitation.Purpose == InvitationPurpose.Second
                ? Read.Version.State is VersionState.Sent or VersionState.Decided
                    && Review.First?.Kind != DecisionKind.Changes
                : Read.Version.State == VersionState.Sent
        );

    /// <summary>Whether the form's answer is open: about the proof, or about the printed sample.</summary>
    public bool CanAnswer => Form.Sample ? Review.WaitsForSample : CanDecide;

    public bool AsksForCode => Review.Asked == EvidenceLevel.Code;

    /// <summary>A code was just asked for; the page says the same whether one left or not.</summary>
    public bool CodeWasAsked { get; init; }

    /// <summary>"k***@harbour.example".</summary>
    public string MaskedAddress
    {
        get
        {
            var address = Review.Invitation.Recipient;
            var at = address.LastIndexOf('@');
            return at < 1 ? "***" : $"{address[0]}***{address[at..]}";
        }
    }

    public string LineName(ProofOrderLine line) =>
        Garments.Find(line.GarmentId, line.ColourId) is { } ground
            ? $"{ground.Garment.Name}, {ground.Colour.Name}"
            : $"{line.GarmentId}, {line.ColourId}";

    public string CentreText(PrintSummary print) =>
        print.FromCentreMm switch
        {
            0 => ReviewText.Centred,
            > 0 => $"{Layout.Words.Length(print.FromCentreMm)} {ReviewText.WearersLeft}",
            _ => $"{Layout.Words.Length(-print.FromCentreMm)} {ReviewText.WearersRight}",
        };

    /// <summary>The things a change can name, so that nobody has to guess what "it" was.</summary>
    public ImmutableArray<(string Group, ImmutableArray<(string Id, string Name)> Things)> Things =>
        [
            (
                ReviewText.Words,
                [.. Read.Summary.Prints.SelectMany(p => p.Words).Distinct().Select(w => ("word: " + w, $"“{w}”"))]
            ),
            (
                ReviewText.SizeAndPlace,
                [
                    .. Read.Summary.Prints.SelectMany(p =>
                        new[]
                        {
                            ($"measure: {p.Name}, width", $"{p.Name}: width"),
                            ($"measure: {p.Name}, place", $"{p.Name}: place"),
                        }
                    ),
                ]
            ),
            (
                ReviewText.Colours,
                [
                    .. Read
                        .Summary.Prints.SelectMany(p => p.Grounds.SelectMany(g => g.Inks.Select(i => i.Ink)))
                        .Distinct()
                        .Select(i => ("ink: " + i, i)),
                ]
            ),
            (ReviewText.Garments, [.. Order.Lines.Select(l => ("garment: " + LineName(l), LineName(l)))]),
            (
                ReviewText.Look,
                [.. Read.Summary.Prints.Select(p => ("print: " + p.Name, p.Name)), ("order", "the order as a whole")]
            ),
        ];
}
