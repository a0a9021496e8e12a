using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Reviews;

namespace ProofDesk.Web.Proofs;

/// <summary>Who may see the bytes behind a digest: staff all bound files, a link's holder the pictures of the version the link opens.</summary>
public sealed class PictureRights(OfficeDb db, Invitations invitations, ReviewTicket ticket)
{
    /// <summary>The file's media type when this visitor may see it, else null.</summary>
    /// <param name="scaledDown">a small view is asked for, not the bytes themselves</param>
    public async Task<string?> MediaTypeAsync(
        HttpContext context,
        string sha256,
        bool scaledDown,
        CancellationToken cancel
    )
    {
        if (context.User.Identity?.IsAuthenticated == true)
        {
            return await db
                .VersionFiles.Where(f => f.Sha256 == sha256)
                .Select(f => f.MediaType)
                .FirstOrDefaultAsync(cancel);
        }
        foreach (var id in ticket.Read(context))
        {
            if (await invitations.ReviewAsync(id, cancel) is not { } review)
                continue;
            // Films leave through their own door only; a client sees pictures, and films scaled down.
            var file = review.Version.Files.FirstOrDefault(f => f.Sha256 == sha256);
            if (file?.MediaType == "image/png" || (file?.MediaType == "image/tiff" && scaledDown))
                return file.MediaType;
        }
        return null;
    }
}
