using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Reviews;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Proofs;

/// <summary>
/// Who may see the bytes behind a digest: staff every bound file but films, a link's holder the pictures of the version the
/// link opens. Films leave through their own door only, after approval.
/// </summary>
public sealed class PictureRights(OfficeDb db, Invitations invitations, ReviewTicket ticket, PersonAtDesk person)
{
    /// <summary>The file's media type when this visitor may see it, else null.</summary>
    public async Task<string?> MediaTypeAsync(HttpContext context, string sha256, CancellationToken cancel)
    {
        if (person.May(Right.ReadOrders))
        {
            return await db
                .VersionFiles.Where(f =>
                    f.Sha256 == sha256
                    && f.Role != FileRole.Plate
                    && f.Role != FileRole.PlatesPdf
                    && f.Role != FileRole.Production
                    // Strangers' bytes: they leave in the packet, never as a page's picture.
                    && f.Role != FileRole.Art
                )
                .Select(f => f.MediaType)
                .FirstOrDefaultAsync(cancel);
        }
        foreach (var id in ticket.Read(context))
        {
            if (await invitations.ReviewAsync(id, cancel) is not { } review)
                continue;
            if (
                review.Version.Files.Any(f =>
                    f.Sha256 == sha256 && f.MediaType == DerivedPictures.Png && f.Role != FileRole.Art
                )
            )
                return DerivedPictures.Png;
        }
        return null;
    }
}
