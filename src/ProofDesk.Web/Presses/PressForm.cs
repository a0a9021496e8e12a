using System.ComponentModel.DataAnnotations;

namespace ProofDesk.Web.Presses;

/// <summary>What the page of a press sends.</summary>
public sealed class PressForm
{
    /// <summary>The version the page was made from; 0 for a new press.</summary>
    public int Seen { get; set; }

    [Required(ErrorMessage = "Give the press the name it has in the shop.")]
    [StringLength(80, ErrorMessage = "The name has at most 80 characters.")]
    public string Name { get; set; } = "";

    /// <summary>Filled reading sheets, one for each mesh; files win over the pasted one.</summary>
    public List<IFormFile> Sheets { get; set; } = [];

    /// <summary>One filled reading sheet as text.</summary>
    [StringLength(200_000, ErrorMessage = "The reading sheet has at most 200,000 characters.")]
    public string? Sheet { get; set; }

    /// <summary>Scans of sheets 1, 2, ... of the first form.</summary>
    public List<IFormFile> Scans { get; set; } = [];
}
