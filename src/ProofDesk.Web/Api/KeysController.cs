using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Api;

public sealed class KeyForm : IValidatableObject
{
    public static IReadOnlyList<int> Lives { get; } = [30, 90, 180, 365];

    [Required(ErrorMessage = "Say which program will use it.")]
    [StringLength(ApiKey.LongestName, ErrorMessage = "Names of keys have at most 60 characters.")]
    public string Name { get; set; } = "";

    [Required(ErrorMessage = "Choose what it may do.")]
    [EnumDataType(typeof(KeyScope), ErrorMessage = "Choose what it may do.")]
    public KeyScope? Scope { get; set; }

    public int Days { get; set; } = 90;

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (!Lives.Contains(Days))
            yield return new("Choose how long it counts: 30, 90, 180 or 365 days.", [nameof(Days)]);
        if (Name.Any(char.IsControl))
            yield return new("The name has a line break or another control character.", [nameof(Name)]);
    }
}

public sealed record KeysPage(IReadOnlyList<ApiKey> Keys, DateTimeOffset Now, KeyForm Form)
{
    public static IReadOnlyList<KeyScope> Scopes { get; } = Enum.GetValues<KeyScope>();

    public IEnumerable<ApiKey> Open => Keys.Where(key => key.IsOpen(Now));
    public IEnumerable<ApiKey> Ended => Keys.Where(key => !key.IsOpen(Now));
}

/// <param name="Secret">Shown on this page and never again.</param>
public sealed record KeyMadePage(ApiKey Key, string Secret);

/// <summary>Keys for the shop's programs. Each step is an event of the log.</summary>
[Route("/keys")]
[Needs(Right.KeepPeople)]
[Recently(Back = "/keys")]
public sealed class KeysController(ApiKeys keys, TimeProvider time) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> List(CancellationToken cancel) =>
        View("Keys", await PageAsync(new KeyForm(), cancel));

    [HttpPost("")]
    public async Task<IActionResult> Create(KeyForm form, CancellationToken cancel)
    {
        if (!ModelState.IsValid)
            return this.Again("Keys", await PageAsync(form, cancel));
        var scope = form.Scope!.Value;
        var wish = new KeyWish(form.Name.Trim(), scope, scope.Word(), time.GetUtcNow().AddDays(form.Days));
        switch (await keys.MakeAsync(wish, User.Identity!.Name!, cancel))
        {
            case KeyMade.Done made:
                return View("KeyMade", new KeyMadePage(made.Key, made.Secret));
            case KeyMade.NameTaken:
                ModelState.AddModelError(
                    nameof(form.Name),
                    $"A key was called {wish.Name} before, and what it did is recorded under that name. Give this one another."
                );
                break;
            default:
                ModelState.AddModelError("", $"{ApiKeys.MostOpen} keys are open, and no more can be. End one first.");
                break;
        }
        return this.Again("Keys", await PageAsync(form, cancel));
    }

    [HttpPost("{id:guid}/end")]
    public async Task<IActionResult> End(Guid id, CancellationToken cancel) =>
        await keys.EndAsync(id, User.Identity!.Name!, cancel) ? Redirect("/keys") : NotFound();

    private async Task<KeysPage> PageAsync(KeyForm form, CancellationToken cancel) =>
        new(await keys.ListAsync(cancel), time.GetUtcNow(), form);
}
