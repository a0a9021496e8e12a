using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// Counts that the page of a link was shown, in a table of its own, apart from decisions and log. A count that could not be
/// written is lost: the client came to look, and is not turned away for it.
/// </summary>
public sealed class ReviewViews(Invitations invitations, ILogger<ReviewViews> log)
{
    public async Task CountAsync(Guid invitationId, Guid versionId, CancellationToken cancel)
    {
        try
        {
            await invitations.CountViewAsync(invitationId, versionId, cancel);
        }
        catch (Exception e) when (e is DbException or DbUpdateException)
        {
            log.LogWarning("a visit of link {Invitation} was not counted: {Why}", invitationId, e.Message);
        }
    }
}
