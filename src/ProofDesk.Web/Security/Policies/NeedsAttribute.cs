using Microsoft.AspNetCore.Authorization;

namespace ProofDesk.Web.Security.Policies;

/// <summary>Names the right an action needs. An action without it, and not opened to everybody, answers nobody.</summary>
[AttributeUsage(AttributeTargets.Class | AttributeTargets.Method)]
public sealed class NeedsAttribute(Right right) : AuthorizeAttribute(right.ToString())
{
    public Right Right { get; } = right;
}
