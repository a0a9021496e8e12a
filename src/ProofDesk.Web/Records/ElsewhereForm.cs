using System.ComponentModel.DataAnnotations;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Web.Records;

/// <summary>What staff writes down after a telephone call, a mail reply or a talk at the counter.</summary>
public sealed class ElsewhereForm
{
    /// <summary>Made with the page, so that sending it twice is one entry.</summary>
    public string Nonce { get; set; } = "";

    [RegularExpression("^(approve|changes)$", ErrorMessage = "Choose what the client said.")]
    [Required(ErrorMessage = "Choose what the client said.")]
    public string Choice { get; set; } = "";

    [Required(ErrorMessage = "Write who said it.")]
    [StringLength(200, ErrorMessage = "The name has at most 200 characters.")]
    public string Who { get; set; } = "";

    [Required(ErrorMessage = "Write how it came: by telephone, by mail, at the counter.")]
    [StringLength(500, ErrorMessage = "How it came has at most 500 characters.")]
    public string How { get; set; } = "";

    [Required(ErrorMessage = "Write the day it was said.")]
    public DateOnly? Day { get; set; }

    /// <summary>What shall change, in the client's words; only when changes are asked for.</summary>
    [StringLength(4000, ErrorMessage = "The changes have at most 4,000 characters.")]
    public string? Changes { get; set; }

    /// <summary>The mail or note that shows it.</summary>
    public IFormFile? Evidence { get; set; }

    public DecisionKind Kind => Choice == "approve" ? DecisionKind.Approve : DecisionKind.Changes;

    public IReadOnlyList<ChangeRequest> Requests =>
        Kind == DecisionKind.Changes && !string.IsNullOrWhiteSpace(Changes)
            ? [new ChangeRequest("order", Changes.Trim())]
            : [];
}
