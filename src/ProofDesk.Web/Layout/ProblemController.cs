using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Web.Api.Answers;

namespace ProofDesk.Web.Layout;

/// <summary>One page for everything that went wrong: plain words and a trace number, never a stack.</summary>
[AllowAnonymous]
[IgnoreAntiforgeryToken]
public sealed class ProblemController : Controller
{
    [Route("/problem/{status:int}")]
    public IActionResult Show()
    {
        // Not bound: binding would read the form of what was refused, which may be what was refused.
        _ = int.TryParse(RouteData.Values["status"] as string, out var status);
        Response.StatusCode = status is >= 400 and < 600 ? status : StatusCodes.Status404NotFound;
        if (ApiProblem.IsAskedByProgram(HttpContext))
            return new ObjectResult(ApiProblem.Of(HttpContext, Response.StatusCode))
            {
                StatusCode = Response.StatusCode,
                ContentTypes = { ApiProblem.MediaType },
            };
        return View("Problem", Layout.Problem.For(Response.StatusCode));
    }
}

/// <summary>What a status means to the person in front of it.</summary>
public sealed record Problem(int Status, string Title, string Text)
{
    public static Problem For(int status) =>
        status switch
        {
            400 => new(
                status,
                "The form had gone stale",
                "Go back, reload the page and send it once more. If cookies are switched off for this site, allow them: they tie the form to you. If you pasted text from elsewhere, it may hold a character that is none; type that part again."
            ),
            403 => new(status, "Not from here", "This request came from another site and was not carried out."),
            404 => new(status, "Nothing here", "There is no such page, or it is not yours to see."),
            405 => new(status, "Not that way", "This address does not take that kind of request."),
            413 => new(status, "Too large", "The file is larger than this server takes."),
            422 => new(
                status,
                "A character that is no text",
                "What you sent holds a character that cannot be seen, such as a control character, often from a copy out of another program. Nothing was written. Go back and type that part again."
            ),
            429 => new(status, "Too many requests", "Please wait a minute and try again."),
            503 => new(status, "Busy", "The server is busy. Nothing was lost; try again in a moment."),
            _ when status >= 500 => new(
                status,
                "Something broke on our side",
                "Nothing you sent was half done. Try again; if it stays like this, tell the shop the number below."
            ),
            _ => new(status, "That did not work", "Go back and try again."),
        };
}
