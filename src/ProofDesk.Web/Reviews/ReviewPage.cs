using System.Collections.Immutable;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Reviews;

/// <summary>A version as its client sees it.</summary>
public sealed record ReviewPage(
    Review Review,
    ReadVersion Read,
    ReviewForm Form,
    Garments Garments,
    PictureSizes PictureSizes
)
{
    public string Here => $"/review/{Review.Invitation.Id}";
    public ProofOrder Order => Read.Order;
    public ImmutableArray<PrintSummary> Prints => Read.Summary.Prints;
    public int Number => Read.Version.Number;
    public string Manifest => Read.Version.ManifestSha256!;

    /// <summary>The shop's zone: days end in it.</summary>
    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;

    /// <summary>Every print on every garment, in the order they are shown.</summary>
    public IReadOnlyList<(PrintSummary Print, GroundSummary Ground)> Shown =>
        [.. Prints.SelectMany(p => p.Grounds.Select(g => (p, g)))];

    /// <summary>Names and numbers, one line a garment.</summary>
    public IReadOnlyList<RosterLine> Roster => [.. Prints.SelectMany(p => p.Roster)];

    /// <summary>Language of the sentences shown: the visitor's where the version has them, otherwise English.</summary>
    public string StatementLocale
    {
        get
        {
            var wanted = ReviewLanguage.Now.Statement;
            return Read.Version.StatementTexts.ContainsKey(wanted) ? wanted : ReviewLanguage.Fallback;
        }
    }

    public string Statement => Read.Version.StatementTexts.GetValueOrDefault(StatementLocale, "");

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

    /// <summary>The last minute of the day the shop asks for an answer by.</summary>
    public DateTimeOffset? AnswerBy => Order.ApproveBy is { } day ? ReviewDates.EndOf(day, Zone) : null;

    public string LineName(ProofOrderLine line) =>
        Garments.Find(line.GarmentId, line.ColourId) is { } ground
            ? $"{ground.Garment.Name}, {ground.Colour.Name}"
            : $"{line.GarmentId}, {line.ColourId}";

    public string CentreText(PrintSummary print) =>
        print.FromCentreMm switch
        {
            0 => ReviewText.Centred,
            > 0 => $"{ReviewText.Length(print.FromCentreMm)} {ReviewText.WearersLeft}",
            _ => $"{ReviewText.Length(-print.FromCentreMm)} {ReviewText.WearersRight}",
        };

    public string PrintName(PrintSummary print) => ReviewText.PlaceName(print.Name);

    public string PictureName(PrintSummary print, GroundSummary ground) =>
        Prints.Length > 1
            ? $"{PrintName(print)}: {ground.Garment}, {ground.Colour}"
            : $"{ground.Garment}, {ground.Colour}";

    public string PictureUrl(PictureView view, PrintSummary print, GroundSummary ground) =>
        $"{Here}?view={view.ToString().ToLowerInvariant()}&print={Uri.EscapeDataString(print.Key)}&ground={Uri.EscapeDataString(ground.Id)}";

    /// <summary>The form for changes with one thing open.</summary>
    public string ChangeUrl(string thing) => $"{Here}/changes?thing={Uri.EscapeDataString(thing)}#thing";

    public (int Width, int Height) SizeOf(string path) =>
        Read.File(path) is { } file ? PictureSizes.Of(file.Sha256) : (1, 1);

    /// <summary>A smaller copy for looking only: compressed, an eighth of the bytes.</summary>
    public string SmallUrl(string path, int width) =>
        Read.File(path) is { } file ? $"/f/{file.Sha256}/w{width}/{Path.GetFileNameWithoutExtension(path)}.webp" : "";

    /// <summary>The things a change can name, so that nobody has to guess what "it" was.</summary>
    public ImmutableArray<(string Group, ImmutableArray<(string Id, string Name)> Things)> Things =>
        [
            (
                ReviewText.Words,
                [.. Prints.SelectMany(p => p.Words).Distinct().Select(w => (ReviewThings.Word(w), $"“{w}”"))]
            ),
            (ReviewText.Roster, [.. Roster.DistinctBy(l => l.Words).Select(l => (ReviewThings.Roster(l), l.Words))]),
            (
                ReviewText.SizeAndPlace,
                [
                    .. Prints.SelectMany(p =>
                        new[]
                        {
                            (ReviewThings.Width(p), $"{PrintName(p)}: {ReviewText.ThingWidth}"),
                            (ReviewThings.Place(p), $"{PrintName(p)}: {ReviewText.ThingPlace}"),
                        }
                    ),
                ]
            ),
            (
                ReviewText.Colours,
                [
                    .. Prints
                        .SelectMany(p => p.Grounds.SelectMany(g => g.Inks.Select(i => i.Ink)))
                        .Distinct()
                        .Select(i => (ReviewThings.Ink(i), i)),
                ]
            ),
            (
                ReviewText.Garments,
                [
                    .. Order.Lines.SelectMany(l =>
                        new[] { (ReviewThings.Garment(LineName(l)), LineName(l)) }.Concat(
                            l.Counts.Select(c =>
                                (
                                    ReviewThings.Size(LineName(l), c.Size),
                                    ReviewText.SizeOf(LineName(l), c.Size, c.Count)
                                )
                            )
                        )
                    ),
                ]
            ),
            (
                ReviewText.Look,
                [
                    .. Prints.Select(p => (ReviewThings.Print(p), PrintName(p))),
                    (ReviewThings.Order, ReviewText.WholeOrder),
                ]
            ),
        ];
}
