using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Records;

/// <summary>Full films leave from an approved version that nothing has taken the place of, and from no other.</summary>
public sealed class FilmsController(
    Office office,
    Releases releases,
    Happenings happenings,
    VersionReader versions,
    IFileStore files,
    TimeProvider time
) : Controller
{
    [HttpGet("/versions/{id:guid}/films")]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var release = await releases.OfAsync(id, cancel);
        return View(
            "Films",
            new FilmsPage(read, ReleaseWords.Refusal(release, read.Version.Number))
            {
                CanRelease = release is Release.NotApproved or Release.SecondMissing or Release.WithinHold,
            }
        );
    }

    /// <summary>The export is a leaf of the log, so it is a POST.</summary>
    [HttpPost("/versions/{id:guid}/films")]
    [Needs(Right.TakeFilms)]
    public async Task<IActionResult> Create(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        if (await RefusalAsync(read.Version, cancel) is { } refusal)
        {
            Response.StatusCode = StatusCodes.Status409Conflict;
            return View("Films", new FilmsPage(read, refusal));
        }
        await happenings.WriteAsync(
            read.Version,
            EventKind.FilmsExported,
            User.Identity!.Name!,
            [
                ("films", $"{read.Version.Files.Count(f => f.Role == FileRole.Plate)}"),
                ("version", $"{read.Version.Number}"),
            ],
            cancel
        );
        return new FilmsResult(read, "films", FilmsResult.Leaving, files);
    }

    /// <summary>
    /// Films before the client has said yes, for whom somebody answers with a name and a reason. Not for a version that was replaced,
    /// that changes were asked for, or that is held.
    /// </summary>
    [HttpPost("/versions/{id:guid}/unapproved-films")]
    [Needs(Right.ReleaseUnapproved)]
    public async Task<IActionResult> Unapproved(Guid id, UnapprovedForm form, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var release = await releases.OfAsync(id, cancel);
        var refusal = ReleaseWords.Refusal(release, read.Version.Number);
        if (release is not (Release.NotApproved or Release.SecondMissing or Release.WithinHold))
        {
            Response.StatusCode = StatusCodes.Status409Conflict;
            return View("Films", new FilmsPage(read, refusal));
        }
        if (!ModelState.IsValid)
        {
            return this.Again("Films", new FilmsPage(read, refusal) { CanRelease = true });
        }
        await happenings.WriteAsync(
            read.Version,
            EventKind.ReleasedUnapproved,
            User.Identity!.Name!,
            [("name", form.Name), ("reason", form.Reason), ("state", refusal), ("version", $"{read.Version.Number}")],
            cancel
        );
        return new FilmsResult(read, "films-without-approval", FilmsResult.Leaving, files);
    }

    /// <summary>
    /// Films to look at before the client has decided: the bound films with NOT RELEASED put outside the image, without the PDF
    /// and without print files and cut paths, which could be used as they are.
    /// </summary>
    [HttpPost("/versions/{id:guid}/early-films")]
    [Needs(Right.WorkOnArt)]
    public async Task<IActionResult> Early(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        await NoteAsync(read.Version, "films exported early, marked NOT RELEASED", cancel);
        return new FilmsResult(read, "films-not-released", [FileRole.Plate, FileRole.InkList], files, early: true);
    }

    private Task NoteAsync(ProofVersion version, string action, CancellationToken cancel) =>
        office.WriteAsync(
            async writing =>
            {
                writing.AuditEvents.Add(
                    new AuditEvent
                    {
                        At = time.GetUtcNow(),
                        Actor = User.Identity!.Name!,
                        Action = action,
                        OrderId = version.OrderId,
                        Detail = $"version {version.Number}, manifest {version.ManifestSha256}",
                    }
                );
                await writing.SaveChangesAsync(cancel);
            },
            cancel
        );

    private async Task<string?> RefusalAsync(ProofVersion version, CancellationToken cancel) =>
        ReleaseWords.Refusal(await releases.OfAsync(version.Id, cancel), version.Number);
}

/// <param name="Refusal">Why no films leave, or null.</param>
public sealed record FilmsPage(ReadVersion Read, string? Refusal)
{
    /// <summary>Somebody may answer for films without approval.</summary>
    public bool CanRelease { get; init; }
}
