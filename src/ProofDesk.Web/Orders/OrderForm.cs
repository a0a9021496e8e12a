using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Printing.Artworks;
using ProofDesk.Web.Shop;

namespace ProofDesk.Web.Orders;

/// <summary>What the new-order page sends. Empty lines are left out, not refused.</summary>
public sealed class OrderForm : IBringsArt, IValidatableObject
{
    public const int MostLines = 4;

    [Required(ErrorMessage = "Give the order a title that both of you will recognise.")]
    [StringLength(200, ErrorMessage = "The title has at most 200 characters.")]
    public string Title { get; set; } = "";

    [Required(ErrorMessage = "Say who the client is.")]
    [StringLength(200, ErrorMessage = "The client's name has at most 200 characters.")]
    public string ClientName { get; set; } = "";

    [Required(ErrorMessage = "Give the client's mail address: the proof goes there.")]
    [EmailAddress(ErrorMessage = "This does not look like a mail address: name@example.com.")]
    [StringLength(320, ErrorMessage = "The address has at most 320 characters.")]
    public string ClientEmail { get; set; } = "";

    public DateOnly? InHands { get; set; }
    public DateOnly? ApproveBy { get; set; }

    [Range(0, 1_000_000_000, ErrorMessage = "The value is between 0 and 1,000,000,000.")]
    public decimal? Value { get; set; }

    /// <summary>"link", "code", or empty for the shop's rule by value.</summary>
    [RegularExpression("^(link|code)?$", ErrorMessage = "Choose what an answer needs.")]
    public string? Evidence { get; set; }

    [EmailAddress(ErrorMessage = "This does not look like a mail address: name@example.com.")]
    [StringLength(320, ErrorMessage = "The address has at most 320 characters.")]
    public string? SecondApprover { get; set; }

    public bool SampleAsked { get; set; }

    /// <summary>The shop's; set by the server.</summary>
    [BindNever]
    public string Currency { get; set; } = "";

    public IFormFile? Art { get; set; }

    public string? KeptArt { get; set; }

    [Required]
    public Place Place { get; set; } = Place.Front;

    [Range(20, 500, ErrorMessage = "The width of the inked extent is between 20 and 500 mm.")]
    public double WidthMm { get; set; } = 280;

    [Range(0, 600, ErrorMessage = "The distance from the seam is between 0 and 600 mm.")]
    public double FromSeamMm { get; set; } = 75;

    [Range(-300, 300, ErrorMessage = "The offset from the centre line is between -300 and 300 mm.")]
    public double FromCentreMm { get; set; }

    [Required(ErrorMessage = "Choose how it is printed.")]
    public string Method { get; set; } = "plastisol";

    [Range(1, 12, ErrorMessage = "Fix the number of colours between 1 and 12, or leave it empty.")]
    public int? InkCount { get; set; }

    /// <summary>Inks ticked by name; none ticked lets the art decide.</summary>
    public List<string> Inks { get; set; } = [];

    /// <summary>What is said about inks that are chosen for the art; rows that say nothing are left out.</summary>
    public List<InkRuleForm> Rules { get; set; } = [];

    [RegularExpression("^(auto|white|discharge|none)$", ErrorMessage = "Choose what goes under the colours.")]
    public string Base { get; set; } = "auto";

    public bool BlockingBase { get; set; }

    /// <summary>Layers of the art are taken as one picture.</summary>
    public bool FlattenLayers { get; set; }

    /// <summary>"solid", or "toned" like the rest of painted art.</summary>
    [RegularExpression("^(solid|toned)$", ErrorMessage = "Flat colours in painted art stay solid or are toned.")]
    public string FlatAreas { get; set; } = "solid";

    /// <summary>"own-shed-press"; empty for the usual automatic press.</summary>
    public string? Press { get; set; }

    /// <summary>"own-back-room"; empty for the fallback.</summary>
    public string? Device { get; set; }

    [Range(1, 8, ErrorMessage = "Images beside each other on a screen: 1 to 8.")]
    public int ImagesAcross { get; set; } = 1;

    [Range(1, 8, ErrorMessage = "Images below each other on a screen: 1 to 8.")]
    public int ImagesDown { get; set; } = 1;

    [Range(5, 200, ErrorMessage = "The bare film between two images is between 5 and 200 mm.")]
    public double ImageGapMm { get; set; } = 20;

    [StringLength(4000, ErrorMessage = "The words of the art have at most 4,000 characters.")]
    public string? Words { get; set; }

    [StringLength(40_000, ErrorMessage = "The list of names and numbers has at most 40,000 characters.")]
    public string? Roster { get; set; }

    [Range(1, 1000, ErrorMessage = "The page of the PDF is between 1 and 1,000, or leave it empty for the first.")]
    public int? PdfPage { get; set; }

    public List<LineForm> Lines { get; set; } = [.. Enumerable.Range(0, MostLines).Select(_ => new LineForm())];

    [StringLength(2000, ErrorMessage = "Notes have at most 2,000 characters.")]
    public string? Notes { get; set; }

    public OrderTerms Terms =>
        new(
            Value is { } value ? Money.Minor(value, Currency) : null,
            Evidence switch
            {
                "link" => EvidenceLevel.Link,
                "code" => EvidenceLevel.Code,
                _ => null,
            },
            SecondApprover?.Trim() ?? "",
            SampleAsked
        );

    public IEnumerable<LineForm> FilledLines => Lines.Where(l => l.Pieces > 0);

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (!FilledLines.Any())
            yield return new("Put a count beside at least one size of one garment.", ["Lines[0].Ground"]);
        if (Lines.Exists(l => l.Counts.Exists(c => c.Count is < 0 or > 100_000)))
            yield return new("Counts are between 0 and 100,000.", ["Lines[0].Ground"]);
        if (FilledLines.GroupBy(l => l.Ground).Any(g => g.Count() > 1))
            yield return new(
                "Two lines name the same garment and colour; put their counts in one.",
                ["Lines[0].Ground"]
            );
        if (InkCount is not null && Inks.Count > 0)
            yield return new(
                $"{InkCount} colours are fixed and {Inks.Count} inks are ticked: use one of the two.",
                [nameof(InkCount)]
            );
        if (Inks.Count > 0 && Rules.Exists(r => !string.IsNullOrEmpty(r.Use)))
            yield return new(
                "Inks are ticked by name, and others are fixed or left out: use one of the two.",
                [nameof(Inks)]
            );
        if (Rules.Exists(r => r.Place is < 1 or > 20))
            yield return new("Places in print order are between 1 and 20.", [nameof(Rules)]);
        if (string.Equals(SecondApprover?.Trim(), ClientEmail?.Trim(), StringComparison.OrdinalIgnoreCase))
            yield return new("The second approver is somebody else than the client.", [nameof(SecondApprover)]);
        if (InHands is { } inHands && ApproveBy is { } approveBy && approveBy >= inHands)
            yield return new("The approve-by date must lie before the in-hands date.", [nameof(ApproveBy)]);
    }
}

/// <summary>One garment in one colour, with its counts.</summary>
public sealed class LineForm
{
    /// <summary>"tee/black".</summary>
    public string Ground { get; set; } = "";

    public List<CountForm> Counts { get; set; } = [];

    public int Pieces => Counts.Sum(c => Math.Clamp(c.Count ?? 0, 0, 100_000));
}

public sealed class CountForm
{
    public string Size { get; set; } = "";
    public int? Count { get; set; }
}
