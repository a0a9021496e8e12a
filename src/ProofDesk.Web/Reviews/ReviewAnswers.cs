using Microsoft.AspNetCore.Mvc;

namespace ProofDesk.Web.Reviews;

/// <summary>A page that explains why something was not done: status, heading, sentence, and where to go.</summary>
public sealed record ReviewAnswer(string Title, string Text, string? LinkText = null, string? LinkHref = null);

internal static class ReviewAnswers
{
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
