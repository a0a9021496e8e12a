using System.ComponentModel.DataAnnotations;
using System.Globalization;

namespace ProofDesk.Web.Inks;

/// <summary>What the page of an ink sends.</summary>
public sealed class InkForm
{
    /// <summary>The version the page was made from; 0 for a new ink.</summary>
    public int Seen { get; set; }

    [Required(ErrorMessage = "Give the ink the name it has on the shelf.")]
    [StringLength(80, ErrorMessage = "The name has at most 80 characters.")]
    public string Name { get; set; } = "";

    public string Kind { get; set; } = "plastisol";

    public string Role { get; set; } = "colour";

    /// <summary>CGATS.17 text; the file wins over a typed Lab.</summary>
    public IFormFile? Measurement { get; set; }

    public double? L { get; set; }
    public double? A { get; set; }
    public double? B { get; set; }
    public string Light { get; set; } = "D50";
    public string Mesh { get; set; } = "61-64";

    public double? SolidsPercent { get; set; }
    public double? Density { get; set; }

    /// <summary>One part a line: the name, then its share as g/kg or with a % sign.</summary>
    [StringLength(4000, ErrorMessage = "The formula has at most 4,000 characters.")]
    public string? Formula { get; set; }

    public double? TargetL { get; set; }
    public double? TargetA { get; set; }
    public double? TargetB { get; set; }
    public double? Tolerance { get; set; }
    public string TargetLight { get; set; } = "D50";

    public static string Number(double? value) => value?.ToString("0.####", CultureInfo.InvariantCulture) ?? "";
}
