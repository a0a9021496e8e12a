using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.People;

/// <summary>Who works in the shop and what they may do. Every change is an event of the log.</summary>
[Route("/people")]
[Needs(Right.KeepPeople)]
public sealed class PeopleController(OfficeDb db, StaffInvitations invitations, StaffRoles roles, PersonAtDesk person)
    : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> List(CancellationToken cancel) => await PageAsync(new InviteForm(), cancel);

    [HttpPost("invitations")]
    public async Task<IActionResult> Invite(InviteForm form, CancellationToken cancel)
    {
        if (ModelState.IsValid)
        {
            var role = form.Role!.Value;
            var invite = new StaffInvite(form.Name.Trim(), form.Email.Trim(), role, role.Word(), role.Means());
            if (await invitations.InviteAsync(invite, Actor, cancel) is not InviteResult.Refused refused)
                return Redirect("/people");
            ModelState.AddModelError(nameof(form.Email), refused.Why);
        }
        return await AgainAsync(form, cancel);
    }

    [HttpPost("invitations/{id:guid}/revocation")]
    public async Task<IActionResult> Revoke(Guid id, CancellationToken cancel) =>
        await invitations.RevokeAsync(id, Actor, cancel) ? Redirect("/people") : NotFound();

    [HttpPost("{id:guid}/role")]
    public async Task<IActionResult> ChangeRole(Guid id, StaffRole? role, CancellationToken cancel)
    {
        if (await NameAsync(id, cancel) is not { } name || role is not { } wanted || !Enum.IsDefined(wanted))
            return NotFound();
        return await AnswerAsync(id, name, await roles.ChangeAsync(id, wanted, RoleRights.Word, Actor, cancel), cancel);
    }

    [HttpPost("{id:guid}/removal")]
    public async Task<IActionResult> Remove(Guid id, CancellationToken cancel) =>
        await NameAsync(id, cancel) is { } name
            ? await AnswerAsync(id, name, await roles.RemoveAsync(id, RoleRights.Word, Actor, cancel), cancel)
            : NotFound();

    private string Actor => User.Identity!.Name!;

    private async Task<IActionResult> AnswerAsync(Guid id, string name, RoleResult result, CancellationToken cancel)
    {
        if (result != RoleResult.LastOwner)
            return Redirect(id == person.Id ? "/desk" : "/people");
        ModelState.AddModelError(
            "",
            $"{name} is the only owner and stays one: without an owner nobody could let people in any more. Make somebody else an owner first."
        );
        return await AgainAsync(new InviteForm(), cancel);
    }

    private async Task<string?> NameAsync(Guid id, CancellationToken cancel) =>
        await db.Users.Where(user => user.Id == id).Select(user => user.DisplayName).FirstOrDefaultAsync(cancel);

    private Task<IActionResult> AgainAsync(InviteForm form, CancellationToken cancel)
    {
        this.ToMend();
        return PageAsync(form, cancel);
    }

    private async Task<IActionResult> PageAsync(InviteForm form, CancellationToken cancel)
    {
        var people = await db
            .Users.AsNoTracking()
            .OrderBy(user => user.DisplayName)
            .Select(user => new Colleague(
                user.Id,
                user.DisplayName,
                user.Email ?? "",
                user.Role,
                user.PasswordHash != null
            ))
            .ToListAsync(cancel);
        return View("People", new PeoplePage(people, await invitations.OpenAsync(cancel), form));
    }
}
