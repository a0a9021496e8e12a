using System.ComponentModel.DataAnnotations;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Web.People;

public sealed record Colleague(Guid Id, string Name, string Address, StaffRole Role, bool HasPassword);

public sealed record PeoplePage(
    IReadOnlyList<Colleague> People,
    IReadOnlyList<StaffInvitation> Invited,
    InviteForm Form
)
{
    public static IReadOnlyList<StaffRole> Roles { get; } = Enum.GetValues<StaffRole>();
}

public sealed class InviteForm : IValidatableObject
{
    [Required(ErrorMessage = "Type the name of who is invited.")]
    [StringLength(100, ErrorMessage = "Names here have at most 100 characters.")]
    public string Name { get; set; } = "";

    // As long as the log takes who did something.
    [Required(ErrorMessage = "Type the mail address the link goes to.")]
    [StringLength(200, ErrorMessage = "Addresses here have at most 200 characters.")]
    public string Email { get; set; } = "";

    [Required(ErrorMessage = "Choose a role.")]
    [EnumDataType(typeof(StaffRole), ErrorMessage = "Choose a role.")]
    public StaffRole? Role { get; set; }

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (MailAddresses.HasControls(Name))
            yield return new("The name has a line break or another control character.", [nameof(Name)]);
        if (MailAddresses.Problem(Email.Trim()) is { } problem)
            yield return new($"Not mailed: {problem}.", [nameof(Email)]);
    }
}
