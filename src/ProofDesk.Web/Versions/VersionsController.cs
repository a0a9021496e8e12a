using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Versions;

/// <summary>A finished version to choose.</summary>
public sealed record FinishedVersion(Guid Id, int Number, VersionState State);

/// <summary>The print on the cloth that is looked at in both versions.</summary>
public sealed record SeenTogether(string Print, string PrintName, string Ground, string GroundName);

/// <param name="Older">null while there are fewer than two finished versions</param>
/// <param name="Seen">null when the two have no print on one cloth in common</param>
/// <param name="Common">all prints on cloths that both have</param>
public sealed record VersionsPage(
    Order Order,
    IReadOnlyList<FinishedVersion> Finished,
    ReadVersion? Older,
    ReadVersion? Newer,
    VersionChanges? Changes,
    SeenTogether? Seen,
    IReadOnlyList<SeenTogether> Common,
    DrawnDifference? Difference
)
{
    public string Here => $"/orders/{Order.Id}/versions?one={Older!.Version.Id}&other={Newer!.Version.Id}";

    public (PrintSummary Print, GroundSummary Ground) Of(ReadVersion read) => SeenIn(read, Seen!);

    /// <summary>The flat picture with its cloth around, mm.</summary>
    public (double Width, double Height) MmOf(ReadVersion read)
    {
        var (print, ground) = Of(read);
        return (print.WidthMm + 2 * ground.MarginMm, print.HeightMm + 2 * ground.MarginMm);
    }

    /// <summary>One frame for both, so that both are drawn at one scale however wide the screen is.</summary>
    public (double Width, double Height) FrameMm
    {
        get
        {
            var (a, b) = (MmOf(Older!), MmOf(Newer!));
            return (Math.Max(a.Width, b.Width), Math.Max(a.Height, b.Height));
        }
    }

    public static (PrintSummary Print, GroundSummary Ground) SeenIn(ReadVersion read, SeenTogether seen)
    {
        var print = read.Summary.Prints.First(p => p.Key == seen.Print);
        return (print, print.Grounds.First(g => g.Id == seen.Ground));
    }
}

/// <summary>Two versions side by side.</summary>
[Needs(Right.ReadOrders)]
public sealed class VersionsController(
    OfficeDb db,
    VersionReader versions,
    Garments garments,
    DifferencePictures pictures
) : Controller
{
    [HttpGet("/orders/{id:guid}/versions")]
    public async Task<IActionResult> Show(
        Guid id,
        Guid? one,
        Guid? other,
        string? print,
        string? ground,
        CancellationToken cancel
    )
    {
        var order = await db.Orders.AsNoTracking().Include(o => o.Client).SingleOrDefaultAsync(o => o.Id == id, cancel);
        if (order is null)
            return NotFound();
        var finished = await db
            .ProofVersions.AsNoTracking()
            .Where(v => v.OrderId == id && v.ManifestSha256 != null)
            .OrderByDescending(v => v.Number)
            .Select(v => new FinishedVersion(v.Id, v.Number, v.State))
            .ToListAsync(cancel);
        if (finished.Count < 2)
            return View("Versions", new VersionsPage(order, finished, null, null, null, null, [], null));
        var chosen = new[] { one ?? finished[1].Id, other ?? finished[0].Id };
        if (chosen.Any(v => !finished.Exists(f => f.Id == v)))
            return NotFound();
        var older = (await versions.FindAsync(chosen[0], cancel))!;
        var newer = chosen[0] == chosen[1] ? older : (await versions.FindAsync(chosen[1], cancel))!;
        if (older.Version.Number > newer.Version.Number)
            (older, newer) = (newer, older);
        var common = CommonOf(older, newer);
        var seen = common.FirstOrDefault(c => c.Print == print && c.Ground == ground) ?? common.FirstOrDefault();
        return View(
            "Versions",
            new VersionsPage(
                order,
                finished,
                older,
                newer,
                VersionChanges.Of(older, newer, garments),
                seen,
                common,
                seen is null ? null : await DifferenceAsync(older, newer, seen, cancel)
            )
        );
    }

    /// <summary>What differs between the flat prints of two versions, as a picture.</summary>
    [HttpGet("/versions/{id:guid}/against/{other:guid}/difference.png")]
    public async Task<IActionResult> Difference(
        Guid id,
        Guid other,
        string? print,
        string? ground,
        CancellationToken cancel
    )
    {
        if (
            await versions.FindAsync(id, cancel) is not { } older
            || await versions.FindAsync(other, cancel) is not { } newer
            || older.Version.OrderId != newer.Version.OrderId
            || CommonOf(older, newer).FirstOrDefault(c => c.Print == print && c.Ground == ground) is not { } seen
        )
            return NotFound();
        // Both versions are frozen, so what differs between them never changes.
        Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return File((await DifferenceAsync(older, newer, seen, cancel)).Png, "image/png");
    }

    private Task<DrawnDifference> DifferenceAsync(
        ReadVersion older,
        ReadVersion newer,
        SeenTogether seen,
        CancellationToken cancel
    )
    {
        var (a, b) = (VersionsPage.SeenIn(older, seen), VersionsPage.SeenIn(newer, seen));
        return pictures.OfAsync((older, a.Print, a.Ground), (newer, b.Print, b.Ground), cancel);
    }

    private static ImmutableArray<SeenTogether> CommonOf(ReadVersion older, ReadVersion newer) =>
        [
            .. newer.Summary.Prints.SelectMany(p =>
                older.Summary.Prints.FirstOrDefault(q => q.Key == p.Key) is { } before
                    ? p
                        .Grounds.Where(g => before.Grounds.Any(h => h.Id == g.Id))
                        .Select(g => new SeenTogether(p.Key, p.Name, g.Id, $"{g.Garment}, {g.Colour}"))
                    : []
            ),
        ];
}
