using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Records;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Api.Versions;

/// <summary>Versions of a proof, their files, and the films of approved ones.</summary>
[Tags("Versions")]
[Route(V1)]
public sealed class VersionsApi(
    OfficeDb db,
    VersionReader versions,
    RenderRequests renders,
    Releases releases,
    Happenings happenings,
    PictureRights rights,
    DerivedPictures derived,
    IFileStore files
) : ApiBase
{
    [HttpGet("versions/{id:guid}")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Reads a version")]
    [EndpointDescription(
        "While it renders: how far it is. Rendered: what it shows, print by print, and every file it binds by digest."
    )]
    [ProducesResponseType<VersionAnswer>(200, "application/json")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel)
    {
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(v => v.Order)
            .Include(v => v.Files)
            .FirstOrDefaultAsync(v => v.Id == id, cancel);
        if (version is null)
            return NotFound();
        var read = version.ManifestSha256 is null ? null : await versions.ReadAsync(version, cancel);
        return Tagged(VersionAnswer.Of(version, await renders.ViewAsync(id, cancel), read));
    }

    /// <summary>The same rule as the desk's pictures: bound files, but neither films nor the client's art.</summary>
    [HttpGet("files/{sha256:regex(^[[0-9a-f]]{{64}}$)}")]
    [Needs(Right.ReadOrders)]
    [GivesBytes("image/png", "application/json", "text/csv", "application/octet-stream")]
    [EndpointSummary("Reads a file")]
    [EndpointDescription(
        "Bytes of a bound file by their digest: pictures, ink lists, recipes. They never change. With width a picture is scaled down to so many pixels."
    )]
    public async Task<IActionResult> Bytes(
        string sha256,
        [FromQuery] [Description("Of a picture: scaled down to so many pixels, 16 to 1600.")] string? width,
        CancellationToken cancel
    )
    {
        if (await rights.MediaTypeAsync(HttpContext, sha256, cancel) is not { } type)
            return NotFound();
        if (width is { Length: > 0 })
        {
            if (!int.TryParse(width, out var pixels) || pixels is < 16 or > 1600 || type != DerivedPictures.Png)
                return Mend([
                    new(
                        "width-not-possible",
                        "/width",
                        "Pictures are scaled to 16 to 1600 pixels; other files have no width.",
                        width,
                        "16 to 1600",
                        "Send another width, or leave it out."
                    ),
                ]);
            Keep();
            return File(await derived.ScaledAsync(sha256, pixels, cancel), DerivedPictures.Png);
        }
        Keep();
        return File(files.Open(sha256), type, enableRangeProcessing: true);
    }

    [HttpGet("versions/{id:guid}/release")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Says whether films may leave")]
    [ProducesResponseType<ReleaseAnswer>(200, "application/json")]
    public async Task<IActionResult> Release(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var release = await releases.OfAsync(id, cancel);
        var refusal = ReleaseWords.Refusal(release, read.Version.Number);
        return Tagged(new ReleaseAnswer(refusal is null, refusal, (release as Release.WithinHold)?.Ends));
    }

    [HttpPost("versions/{id:guid}/films")]
    [Needs(Right.TakeFilms)]
    [GivesBytes("application/zip")]
    [EndpointSummary("Takes the films")]
    [EndpointDescription(
        "Films, plates.pdf, ink list and print files of an approved version as one ZIP. Each taking is an event of the log, so it is a POST. 409 says in words why films do not leave."
    )]
    [ProducesResponseType<ApiProblem>(409, ApiProblem.MediaType)]
    public async Task<IActionResult> Films(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        if (ReleaseWords.Refusal(await releases.OfAsync(id, cancel), read.Version.Number) is { } refusal)
            return Problem(StatusCodes.Status409Conflict, "not-released", "Films do not leave", refusal);
        await happenings.WriteAsync(
            read.Version,
            EventKind.FilmsExported,
            Actor,
            [
                ("films", $"{read.Version.Files.Count(f => f.Role == FileRole.Plate)}"),
                ("version", $"{read.Version.Number}"),
            ],
            cancel
        );
        return new FilmsResult(read, "films", FilmsResult.Leaving, files);
    }

    private void Keep() => Response.Headers.CacheControl = "private, max-age=31536000, immutable";
}
