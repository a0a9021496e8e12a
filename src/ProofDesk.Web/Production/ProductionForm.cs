using System.ComponentModel.DataAnnotations;

namespace ProofDesk.Web.Production;

/// <summary>A photograph of a printed piece, and what was measured on it.</summary>
public class PieceForm
{
    public IFormFile? Photo { get; set; }

    /// <summary>"print|screen|ground": the solid that was measured.</summary>
    public string? Solid { get; set; }

    [Range(0, 100, ErrorMessage = "L* is between 0 and 100.")]
    public double? L { get; set; }

    [Range(-130, 130, ErrorMessage = "a* is between -130 and 130.")]
    public double? A { get; set; }

    [Range(-130, 130, ErrorMessage = "b* is between -130 and 130.")]
    public double? B { get; set; }

    [StringLength(1500, ErrorMessage = "The note has at most 1,500 characters.")]
    public string? Note { get; set; }

    public bool IsMeasured => L is not null || A is not null || B is not null;
}

public sealed class SubstitutionForm
{
    [Required(ErrorMessage = "Say what was replaced: the ink, the garment, the mesh.")]
    [StringLength(300, ErrorMessage = "What was replaced has at most 300 characters.")]
    public string What { get; set; } = "";

    [Required(ErrorMessage = "Say by what.")]
    [StringLength(300, ErrorMessage = "Its replacement has at most 300 characters.")]
    public string By { get; set; } = "";

    [Required(ErrorMessage = "Say why.")]
    [StringLength(1500, ErrorMessage = "The reason has at most 1,500 characters.")]
    public string Why { get; set; } = "";
}

public sealed class FinishedForm
{
    [Required(ErrorMessage = "Count the good pieces.")]
    [Range(0, 1_000_000, ErrorMessage = "Good pieces are between 0 and 1,000,000.")]
    public int? Good { get; set; }

    [Range(0, 1_000_000, ErrorMessage = "Spoilt pieces are between 0 and 1,000,000.")]
    public int? Spoilt { get; set; }
}

public sealed class UnapprovedForm
{
    [Required(ErrorMessage = "Write who answers for it.")]
    [StringLength(200, ErrorMessage = "The name has at most 200 characters.")]
    public string Name { get; set; } = "";

    [Required(ErrorMessage = "Write why films leave before the client has said yes.")]
    [StringLength(1500, ErrorMessage = "The reason has at most 1,500 characters.")]
    public string Reason { get; set; } = "";
}
