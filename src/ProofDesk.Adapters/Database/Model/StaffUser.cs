using Microsoft.AspNetCore.Identity;

namespace ProofDesk.Adapters.Database;

/// <summary>Someone who works in the shop. Clients have no account.</summary>
public sealed class StaffUser : IdentityUser<Guid>
{
    public string DisplayName { get; set; } = "";
}
