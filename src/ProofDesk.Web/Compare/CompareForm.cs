using System.ComponentModel.DataAnnotations;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Comparisons;
using ProofDesk.Web.Orders;

namespace ProofDesk.Web.Compare;

/// <summary>What the page for a new sheet sends.</summary>
public sealed class CompareForm : IBringsArt, IValidatableObject
{
    /// <summary>Counts the page offers beside "as many as the art has".</summary>
    public static readonly int[] Counts = [1, 2, 3, 4, 5, 6, 8];

    public const string AsTheArt = "auto";

    [Required(ErrorMessage = "Give the sheet a title.")]
    [StringLength(200, ErrorMessage = "The title has at most 200 characters.")]
    public string Title { get; set; } = "";

    /// <summary>The order whose art is compared; null for art of its own.</summary>
    public Guid? Order { get; set; }

    /// <summary>Which print of it, from 0.</summary>
    public int Print { get; set; }

    public IFormFile? Art { get; set; }

    public string? KeptArt { get; set; }

    [Required]
    public Place Place { get; set; } = Place.Front;

    [Range(20, 500, ErrorMessage = "The width of the inked extent is between 20 and 500 mm.")]
    public double WidthMm { get; set; } = 280;

    [RegularExpression("^(drop|print)?$", ErrorMessage = "Choose what happens to the background.")]
    public string? Background { get; set; }

    public List<string> Methods { get; set; } = [];

    /// <summary>"tee/black".</summary>
    public List<string> Grounds { get; set; } = [];

    /// <summary>"auto" or a number.</summary>
    public List<string> Inks { get; set; } = [AsTheArt];

    [Range(1, 100_000, ErrorMessage = "The quantity is between 1 and 100,000.")]
    public int Quantity { get; set; } = 48;

    public IEnumerable<int?> InkCounts => Inks.Select(text => int.TryParse(text, out var count) ? count : (int?)null);

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (Methods.Count == 0)
            yield return new("Tick at least one method.", [nameof(Methods)]);
        if (Grounds.Count == 0)
            yield return new("Tick at least one garment colour.", [nameof(Grounds)]);
        if (Inks.Exists(text => text != AsTheArt && !(int.TryParse(text, out var count) && Counts.Contains(count))))
            yield return new("Choose numbers of inks from the list.", [nameof(Inks)]);
        if (Methods.Count * Grounds.Count * Math.Max(1, Inks.Count) > 20 * ComparisonPlan.MostCells)
            yield return new("That is far too much for one sheet.", [nameof(Methods)]);
    }
}

/// <summary>What the page of a sheet sends to give out a link.</summary>
public sealed class SheetLinkForm
{
    [Required(ErrorMessage = "Say for whom the link is: the list of links shows it.")]
    [StringLength(200, ErrorMessage = "For whom: at most 200 characters.")]
    public string ForWhom { get; set; } = "";

    [Range(1, Adapters.Sheets.SheetLinks.LongestDays, ErrorMessage = "A link works for 1 to 90 days.")]
    public int Days { get; set; } = 14;
}

/// <summary>What the holder of a link sends.</summary>
public sealed class PreferenceForm
{
    [Required(ErrorMessage = "Mark the one you like best.")]
    public Guid? Cell { get; set; }

    [Required(ErrorMessage = "Type your name, so that the shop knows whose word it is.")]
    [StringLength(Adapters.Sheets.SheetLinks.LongestName, ErrorMessage = "Your name has at most 200 characters.")]
    public string Name { get; set; } = "";

    [StringLength(Adapters.Sheets.SheetLinks.MostWords, ErrorMessage = "A few words: at most 1,000 characters.")]
    public string? Words { get; set; }
}
