using System.Globalization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Events;
using ProofDesk.Imaging.Colour;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Records;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Production;

/// <param name="Refusal">why films do not leave, or null</param>
public sealed record ProductionPage(
    ReadVersion Read,
    string? Refusal,
    IReadOnlyList<PieceSolid> Solids,
    IReadOnlyList<Happened> Events,
    int Pieces
)
{
    /// <summary>The order that is made now: the version's own, or the one that repeats it.</summary>
    public required Order Made { get; init; }

    public bool IsCounted => Events.Any(e => e.Kind == EventKind.Finished && e.At >= Made.CreatedAt);
}

/// <summary>What happens to a version after the client's yes: samples, the first good piece, replacements, counts. Each is a leaf of the log.</summary>
[Route("/versions/{id:guid}/production")]
public sealed class ProductionController(
    OfficeDb db,
    VersionReader versions,
    Releases releases,
    Happenings happenings,
    PiecePhotos photos,
    IFileStore files
) : Controller
{
    private static readonly EventKind[] WithPhoto = [EventKind.PressChecked, EventKind.SampleMade];

    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(Guid id, Guid? order, CancellationToken cancel) =>
        await versions.FindAsync(id, cancel) is { } read
            ? View("Production", await PageAsync(read, order, cancel))
            : NotFound();

    [HttpPost("press-checks")]
    [Needs(Right.Produce)]
    public Task<IActionResult> PressCheck(Guid id, PieceForm form, CancellationToken cancel) =>
        PieceAsync(id, EventKind.PressChecked, form, cancel);

    [HttpPost("samples")]
    [Needs(Right.Produce)]
    public Task<IActionResult> Sample(Guid id, PieceForm form, CancellationToken cancel) =>
        PieceAsync(id, EventKind.SampleMade, form, cancel);

    [HttpPost("substitutions")]
    [Needs(Right.Produce)]
    public Task<IActionResult> Substitution(Guid id, SubstitutionForm form, CancellationToken cancel) =>
        WriteAsync(
            id,
            EventKind.Substituted,
            [("what", form.What), ("by-what", form.By), ("reason", form.Why)],
            cancel
        );

    [HttpPost("finished")]
    [Needs(Right.Produce)]
    public Task<IActionResult> Finished(Guid id, FinishedForm form, CancellationToken cancel) =>
        WriteAsync(id, EventKind.Finished, [("good", Count(form.Good)), ("spoilt", Count(form.Spoilt))], cancel);

    /// <summary>The photograph of a press check or a sample.</summary>
    [HttpGet("/production/{eventId:guid}/photo.jpg")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Photo(Guid eventId, CancellationToken cancel)
    {
        var row = await db.LoggedEvents.AsNoTracking().SingleOrDefaultAsync(e => e.Id == eventId, cancel);
        if (
            row is null
            || !WithPhoto.Contains(row.Kind)
            || !EventJson.Parse(row.EventBytes).Facts.TryGetValue("photo", out var digest)
        )
            return NotFound();
        Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return File(await files.ReadCheckedAsync(digest, cancel), "image/jpeg");
    }

    private async Task<IActionResult> PieceAsync(Guid id, EventKind kind, PieceForm form, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var solid = PieceSolid.Of(read.Version.ManifestBytes!).FirstOrDefault(s => s.Id == form.Solid);
        if (form.Photo is not { Length: > 0 })
            ModelState.AddModelError(
                nameof(form.Photo),
                "Take a photograph of the piece: it is shown beside the proof."
            );
        if (form.IsMeasured && (form.L is null || form.A is null || form.B is null))
            ModelState.AddModelError(nameof(form.L), "A measured colour has L*, a* and b*.");
        if (form.IsMeasured && solid is null)
            ModelState.AddModelError(nameof(form.Solid), "Choose which solid was measured.");
        if (!ModelState.IsValid)
            return await AgainAsync(read, cancel);
        PiecePhoto photo;
        try
        {
            photo = await photos.KeepAsync(form.Photo!, cancel);
        }
        catch (UnreadableArt unreadable)
        {
            ModelState.AddModelError(nameof(form.Photo), $"{unreadable.What}. {unreadable.NextStep}.");
            return await AgainAsync(read, cancel);
        }
        List<(string, string?)> facts =
        [
            ("photo", photo.Sha256),
            ("original", photo.OriginalSha256),
            ("note", form.Note),
        ];
        if (form.IsMeasured)
        {
            var measured = new Lab(form.L!.Value, form.A!.Value, form.B!.Value);
            facts.Add(("solid", solid!.Name));
            facts.Add(("expected", PieceSolid.Say(solid.Expected)));
            facts.Add(("measured", PieceSolid.Say(measured)));
            facts.Add(
                (
                    "difference",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{Ciede2000.Difference(solid.Expected, measured):0.0} dE00"
                    )
                )
            );
        }
        return await WriteAsync(id, kind, facts, cancel);
    }

    private async Task<IActionResult> WriteAsync(
        Guid id,
        EventKind kind,
        IEnumerable<(string Name, string? Value)> facts,
        CancellationToken cancel
    )
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        if (!ModelState.IsValid)
            return await AgainAsync(read, cancel);
        await happenings.WriteAsync(read.Version, kind, User.Identity!.Name!, facts, cancel);
        return Redirect($"/versions/{id}/production");
    }

    private async Task<ViewResult> AgainAsync(ReadVersion read, CancellationToken cancel)
    {
        return this.Again("Production", await PageAsync(read, null, cancel));
    }

    private async Task<ProductionPage> PageAsync(ReadVersion read, Guid? orderId, CancellationToken cancel)
    {
        var made = await db
            .Orders.AsNoTracking()
            .Where(o => o.Id == orderId && o.RepeatOfVersionId == read.Version.Id)
            .FirstOrDefaultAsync(cancel);
        var events = await db
            .LoggedEvents.AsNoTracking()
            .Where(e => e.VersionId == read.Version.Id)
            .OrderByDescending(e => e.LeafIndex)
            .ToListAsync(cancel);
        var erased = await Happenings.ErasedAsync(db, read.Version.Id, cancel);
        return new(
            read,
            ReleaseWords.Refusal(await releases.OfAsync(read.Version.Id, cancel), read.Version.Number),
            PieceSolid.Of(read.Version.ManifestBytes!),
            [.. events.Select(row => Happened.Of(row, erased))],
            read.Order.Pieces
        )
        {
            Made = made ?? read.Version.Order!,
        };
    }

    private static string? Count(int? pieces) => pieces?.ToString(CultureInfo.InvariantCulture);
}
