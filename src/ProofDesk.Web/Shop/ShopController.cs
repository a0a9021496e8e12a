using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Shop;

/// <summary>What holds for every order of the shop.</summary>
[Route("/shop")]
public sealed class ShopController(OfficeDb db, Office office, StaffAccounts accounts, TimeProvider time) : Controller
{
    [HttpGet("")]
    [Needs(Right.ReadHouse)]
    public async Task<IActionResult> Show(CancellationToken cancel) =>
        View("Shop", ShopForm.Of(await db.Shop.AsNoTracking().SingleAsync(cancel)));

    [HttpPost("")]
    [Needs(Right.RuleShop)]
    public async Task<IActionResult> Update(ShopForm form, CancellationToken cancel)
    {
        if (form.SecondStepForAll && !await HasSecondStepAsync())
            ModelState.AddModelError(
                nameof(form.SecondStepForAll),
                "You have no second step yourself yet. Set one up on the page Your account first, so that the rule does not begin with you outside."
            );
        if (!ModelState.IsValid)
            return Again(form, StatusCodes.Status422UnprocessableEntity);
        var isWritten = await office.WriteAsync(writing => WriteAsync(writing, form, cancel), cancel);
        if (isWritten)
            return Redirect("/shop");
        ModelState.AddModelError("", "Somebody else changed these settings meanwhile. Load the page again.");
        return Again(form, StatusCodes.Status409Conflict);
    }

    private async Task<bool> HasSecondStepAsync()
    {
        var person = (await accounts.GetUserAsync(User))!;
        return person.TwoFactorEnabled || (await accounts.GetPasskeysAsync(person)).Count > 0;
    }

    private async Task<bool> WriteAsync(OfficeDb writing, ShopForm form, CancellationToken cancel)
    {
        var shop = await writing.Shop.SingleAsync(cancel);
        if (shop.RowVersion != form.RowVersion)
            return false;
        shop.Currency = form.Currency ?? "";
        shop.CodeFromValueMinor = form.CodeFrom is { } from ? Money.Minor(from, shop.Currency) : null;
        shop.RemindAfterDays = form.RemindAfterDays;
        shop.SecondStepForAll = form.SecondStepForAll;
        shop.StatementText = string.Join('\n', form.FilledLines);
        writing.AuditEvents.Add(
            new AuditEvent
            {
                At = time.GetUtcNow(),
                Actor = User.Identity!.Name!,
                Action = "shop settings changed",
                Detail =
                    $"code from {(shop.CodeFromValueMinor is { } minor ? Money.Say(minor, shop.Currency) : "never")}, "
                    + $"reminders after {shop.RemindAfterDays} days, {form.FilledLines.Count()} lines of its own, "
                    + (shop.SecondStepForAll ? "a second step for everybody" : "a second step for who wants one"),
            }
        );
        await writing.SaveChangesAsync(cancel);
        return true;
    }

    private ViewResult Again(ShopForm form, int status)
    {
        Response.StatusCode = status;
        return View("Shop", form);
    }
}
