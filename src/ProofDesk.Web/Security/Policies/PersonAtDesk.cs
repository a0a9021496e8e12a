using System.Security.Claims;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Api.Access;

namespace ProofDesk.Web.Security.Policies;

/// <summary>
/// Who sent this request and what they may do, asked of the database each time: a changed role or a removed account counts from
/// the next request on, whatever the cookie says.
/// </summary>
public sealed class PersonAtDesk
{
    public StaffRole? Role { get; private set; }
    public Guid? Id { get; private set; }
    public string Name { get; private set; } = "";

    /// <summary>Of the key a program asks with; null for people.</summary>
    public KeyScope? Scope { get; private set; }

    /// <summary>The shop asks everybody for a second step and this person has none yet: only the own account is open.</summary>
    public bool MustSetUp { get; private set; }

    public bool May(Right right) =>
        (!MustSetUp || right == Right.OwnAccount)
        && ((Role is { } role && role.Has(right)) || (Scope is { } scope && scope.Has(right)));

    internal async Task KnowAsync(HttpContext context, OfficeDb db)
    {
        // Read from the database a moment ago, when the key was looked at.
        if (KeyHandler.ScopeOf(context.User) is { } scope)
            (Scope, Name) = (scope, context.User.Identity!.Name!);
        else if (
            Guid.TryParse(context.User.FindFirstValue(ClaimTypes.NameIdentifier), out var id)
            && await db
                .Users.AsNoTracking()
                .Where(user => user.Id == id)
                .Select(user => new
                {
                    user.Role,
                    user.DisplayName,
                    Lacks = !user.TwoFactorEnabled
                        && db.Shop.Any(shop => shop.SecondStepForAll)
                        && !db.UserPasskeys.Any(passkey => passkey.UserId == user.Id),
                })
                .FirstOrDefaultAsync(context.RequestAborted)
                is { } found
        )
        {
            (Id, Role, Name, MustSetUp) = (id, found.Role, found.DisplayName, found.Lacks);
        }
        else
        {
            // The account is gone: the cookie stands for nobody.
            context.User = new ClaimsPrincipal(new ClaimsIdentity());
        }
    }
}

/// <summary>Behind authentication, before authorisation.</summary>
internal sealed class PersonLookup(RequestDelegate next)
{
    public async Task InvokeAsync(HttpContext context, PersonAtDesk person, OfficeDb db)
    {
        if (context.User.Identity?.IsAuthenticated == true)
            await person.KnowAsync(context, db);
        await next(context);
    }
}
