using System.Security.Claims;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

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

    public bool May(Right right) => Role is { } role && role.Has(right);

    internal async Task KnowAsync(HttpContext context, OfficeDb db)
    {
        if (
            Guid.TryParse(context.User.FindFirstValue(ClaimTypes.NameIdentifier), out var id)
            && await db
                .Users.AsNoTracking()
                .Where(user => user.Id == id)
                .Select(user => new { user.Role, user.DisplayName })
                .FirstOrDefaultAsync(context.RequestAborted)
                is { } found
        )
        {
            (Id, Role, Name) = (id, found.Role, found.DisplayName);
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
