using System.IO.Compression;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Records;

/// <summary>Full films leave from an approved version that nothing has taken the place of, and from no other.</summary>
public sealed class FilmsController(
    OfficeDb db,
    Office office,
    Adapters.Database.Records records,
    VersionReader versions,
    IFileStore files,
    TimeProvider time
) : Controller
{
    [HttpGet("/versions/{id:guid}/films")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        return View("Films", new FilmsPage(read, await RefusalAsync(read.Version, cancel)));
    }

    /// <summary>The export leaves a line in the trail, so it is a POST.</summary>
    [HttpPost("/versions/{id:guid}/films")]
    public async Task<IActionResult> Create(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        if (await RefusalAsync(read.Version, cancel) is { } refusal)
        {
            Response.StatusCode = StatusCodes.Status409Conflict;
            return View("Films", new FilmsPage(read, refusal));
        }
        await NoteAsync(read.Version, "films exported", cancel);
        return await ZipAsync(
            read,
            "films",
            [FileRole.Plate, FileRole.PlatesPdf, FileRole.InkList, FileRole.Production],
            early: false,
            cancel
        );
    }

    /// <summary>
    /// Films to look at before the client has decided: the bound films with NOT RELEASED put outside the image, without the PDF
    /// and without print files and cut paths, which could be used as they are.
    /// </summary>
    [HttpPost("/versions/{id:guid}/early-films")]
    public async Task<IActionResult> Early(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        await NoteAsync(read.Version, "films exported early, marked NOT RELEASED", cancel);
        return await ZipAsync(read, "films-not-released", [FileRole.Plate, FileRole.InkList], early: true, cancel);
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

    private async Task<IActionResult> ZipAsync(
        ReadVersion read,
        string name,
        FileRole[] leaving,
        bool early,
        CancellationToken cancel
    )
    {
        Response.ContentType = "application/zip";
        Response.Headers.ContentDisposition =
            $"attachment; filename=\"order-{read.Order.Number}-version-{read.Version.Number}-{name}.zip\"";
        // The archive's directory is written with blocking calls, which the server refuses on its own stream.
        await using var buffer = ScratchFile.Open();
        await WriteAsync(read.Version, leaving, early, buffer, cancel);
        buffer.Position = 0;
        Response.ContentLength = buffer.Length;
        await buffer.CopyToAsync(Response.Body, cancel);
        return new EmptyResult();
    }

    private async Task WriteAsync(
        ProofVersion version,
        FileRole[] leaving,
        bool early,
        Stream output,
        CancellationToken cancel
    )
    {
        await using var zip = new ZipArchive(output, ZipArchiveMode.Create, leaveOpen: true);
        foreach (
            var file in version.Files.Where(f => leaving.Contains(f.Role)).OrderBy(f => f.Path, StringComparer.Ordinal)
        )
        {
            var bytes = await files.ReadCheckedAsync(file.Sha256, cancel);
            if (early && file.Role == FileRole.Plate)
            {
                using var stamped = new MemoryStream();
                EarlyFilms.Write(bytes, stamped, cancel);
                bytes = stamped.ToArray();
            }
            await using var entry = await zip.CreateEntry(file.Path, CompressionLevel.Fastest).OpenAsync(cancel);
            await entry.WriteAsync(bytes, cancel);
        }
    }

    private const string Held =
        "The approval is minutes old and can still be taken back. Films leave when that time is over; load this page again.";

    private async Task<string?> RefusalAsync(ProofVersion version, CancellationToken cancel)
    {
        var newer = await db
            .ProofVersions.Where(v => v.OrderId == version.OrderId && v.Number > version.Number && v.SentAt != null)
            .MaxAsync(v => (int?)v.Number, cancel);
        if (newer is not null)
            return $"Version {newer} has taken the place of version {version.Number}. Take the films of the newest approved version.";
        var kind = await db
            .DecisionSlots.Where(s => s.VersionId == version.Id)
            .Select(s => (DecisionKind?)s.Decision!.Kind)
            .FirstOrDefaultAsync(cancel);
        return kind switch
        {
            DecisionKind.Approve => await records.IsReleasedAsync(version.Id, cancel) ? null : Held,
            DecisionKind.Changes =>
                $"The client has asked for changes to version {version.Number}. Make a new version and have it approved.",
            _ =>
                $"Version {version.Number} is not approved. Films leave when the client has said yes to what they print.",
        };
    }
}

/// <param name="Refusal">Why no films leave, or null.</param>
public sealed record FilmsPage(ReadVersion Read, string? Refusal);
