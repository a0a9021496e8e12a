using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Production;

public sealed class ReorderForm
{
    public string? Title { get; set; }
    public DateOnly? InHands { get; set; }
    public DateOnly? ApproveBy { get; set; }

    /// <summary>Counts in the order of the version's lines and sizes.</summary>
    public List<int?> Counts { get; set; } = [];
}

public sealed record ReorderPage(
    ReadVersion Read,
    string ApprovedBy,
    DateTimeOffset ApprovedAt,
    ReorderForm Form,
    Garments Garments
);

/// <summary>
/// Orders an approved version again: prints, films and garments stay as they are stored; counts and dates are asked for. If a count
/// differs, the client is asked anew, because the answer binds counts.
/// </summary>
[Needs(Right.TakeOrders)]
[Route("/versions/{id:guid}/reorder")]
public sealed class ReordersController(
    VersionReader versions,
    Releases releases,
    Reorders reorders,
    RenderRequests renders,
    Garments garments
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> New(Guid id, CancellationToken cancel) =>
        await FindAsync(id, cancel) is var (read, free)
            ? View("Reorder", Page(read, free, FormOf(read.Order)))
            : NotFound();

    [HttpPost("")]
    public async Task<IActionResult> Create(Guid id, ReorderForm form, CancellationToken cancel)
    {
        if (await FindAsync(id, cancel) is not var (read, free))
            return NotFound();
        var sizes = read.Order.Lines.Sum(line => line.Counts.Length);
        if (form.Counts.Count != sizes || form.Counts.Exists(count => count is < 0 or > 100_000))
            ModelState.AddModelError("Counts[0]", "Counts are between 0 and 100,000.");
        else if (form.Counts.TrueForAll(count => (count ?? 0) == 0))
            ModelState.AddModelError("Counts[0]", "Put a count beside at least one size.");
        if (form.InHands is { } inHands && form.ApproveBy is { } approveBy && approveBy >= inHands)
            ModelState.AddModelError(nameof(form.ApproveBy), "The approve-by date must lie before the in-hands date.");
        if (!ModelState.IsValid)
        {
            return this.Again("Reorder", Page(read, free, form));
        }
        var actor = User.Identity!.Name!;
        var (orderId, isSame) = await reorders.CreateAsync(read, form, actor, cancel);
        if (!isSame)
            await renders.AskAsync(orderId, actor, cancel);
        return Redirect($"/orders/{orderId}");
    }

    // Only what stands approved can be had again without looking at it anew.
    private async Task<(ReadVersion Read, Release.Free Free)?> FindAsync(Guid id, CancellationToken cancel) =>
        await versions.FindAsync(id, cancel) is { } read && await releases.OfAsync(id, cancel) is Release.Free free
            ? (read, free)
            : null;

    private ReorderPage Page(ReadVersion read, Release.Free free, ReorderForm form) =>
        new(read, free.By, free.At, form, garments);

    private static ReorderForm FormOf(ProofOrder order) =>
        new()
        {
            Title = order.Title,
            Counts = [.. order.Lines.SelectMany(line => line.Counts.Select(count => (int?)count.Count))],
        };
}
