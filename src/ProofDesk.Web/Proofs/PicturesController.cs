using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Web.Proofs;

/// <summary>
/// Pictures by their digest. The digest is in the manifest, the bytes never change, and only who may see a version that
/// binds them gets them; everyone else reads the same 404 as for a digest that does not exist.
/// </summary>
[AllowAnonymous]
public sealed class PicturesController(PictureRights rights, IFileStore files, DerivedPictures derived) : Controller
{
    private const string Digest = "/f/{sha256:regex(^[[0-9a-f]]{{64}}$)}";

    [HttpGet(Digest + "/{name}")]
    public async Task<IActionResult> Show(string sha256, string name, CancellationToken cancel)
    {
        if (await rights.MediaTypeAsync(HttpContext, sha256, cancel) is not { } type)
            return Hidden();
        Keep();
        var inline = type == DerivedPictures.Png;
        return File(files.Open(sha256), type, inline ? null : name, enableRangeProcessing: true);
    }

    [HttpGet(Digest + "/w{width:int:range(16,1600)}/{name}.png")]
    public async Task<IActionResult> Scaled(string sha256, int width, CancellationToken cancel)
    {
        if (await rights.MediaTypeAsync(HttpContext, sha256, cancel) != DerivedPictures.Png)
            return Hidden();
        Keep();
        return File(await derived.ScaledAsync(sha256, width, cancel), "image/png");
    }

    /// <summary>A smaller copy for looking only, compressed with a loss: an eighth of the bytes on a telephone's line.</summary>
    [HttpGet(Digest + "/w{width:int:range(16,1600)}/{name}.webp")]
    public async Task<IActionResult> Small(string sha256, int width, CancellationToken cancel)
    {
        if (await rights.MediaTypeAsync(HttpContext, sha256, cancel) != DerivedPictures.Png)
            return Hidden();
        Keep();
        return File(await derived.SmallAsync(sha256, width, cancel), "image/webp");
    }

    [HttpGet(Digest + "/tiles/{level:int:range(0,20)}/{x:int:range(0,999)}_{y:int:range(0,999)}.png")]
    public async Task<IActionResult> Tile(string sha256, int level, int x, int y, CancellationToken cancel)
    {
        if (
            await rights.MediaTypeAsync(HttpContext, sha256, cancel) != DerivedPictures.Png
            || await derived.TileAsync(sha256, level, x, y, cancel) is not { } tile
        )
            return Hidden();
        Keep();
        return File(tile, "image/png");
    }

    private void Keep() => Response.Headers.CacheControl = "private, max-age=31536000, immutable";

    private NotFoundResult Hidden() => NotFound();
}
