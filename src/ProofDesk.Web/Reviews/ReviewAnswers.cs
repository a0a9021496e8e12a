using Microsoft.AspNetCore.Mvc;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Reviews;

/// <summary>A page that explains why something was not done: status, heading, sentence, and where to go.</summary>
public sealed record ReviewAnswer(string Title, string Text, string? LinkText = null, string? LinkHref = null)
{
    /// <summary>Where "ask for a new link" is posted; null where that is no help.</summary>
    public string? NewLinkAction { get; init; }
}

internal static class ReviewAnswers
{
    /// <summary>The link has ended: why, and a button that tells the shop.</summary>
    public static ViewResult Gone(this Controller controller, LinkResult.Gone gone)
    {
        controller.Response.StatusCode = StatusCodes.Status410Gone;
        return controller.View(
            "Answer",
            new ReviewAnswer(ReviewText.GoneTitle, gone.Revoked ? ReviewText.Revoked : ReviewText.Expired)
            {
                NewLinkAction = $"/review/{gone.InvitationId}/new-link",
            }
        );
    }

    public static ViewResult Answer(
        this Controller controller,
        int status,
        string title,
        string text,
        string? linkText = null,
        string? href = null
    )
    {
        controller.Response.StatusCode = status;
        return controller.View("Answer", new ReviewAnswer(title, text, linkText, href));
    }
}
