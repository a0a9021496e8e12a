using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Filters;

namespace ProofDesk.Web.Security;

/// <summary>
/// Refuses a form with a character that is no text before anything reads it: PostgreSQL cannot store some of them, XML none,
/// and nobody types them. In an address such a character names nothing.
/// </summary>
internal sealed class PlainTextFilter : IResourceFilter
{
    public void OnResourceExecuting(ResourceExecutingContext context)
    {
        // The page that explains a refusal has the refused form with it, and does not read it again.
        if (
            context.HttpContext.Features.Get<IStatusCodeReExecuteFeature>() is not null
            || context.HttpContext.Features.Get<IExceptionHandlerFeature>() is not null
        )
            return;
        var request = context.HttpContext.Request;
        if (
            request.Query.SelectMany(q => q.Value).Any(IsForeign)
            || context.RouteData.Values.Values.OfType<string>().Any(IsForeign)
        )
            context.Result = new NotFoundResult();
        else if (
            request.HasFormContentType && request.Form.Any(field => IsForeign(field.Key) || field.Value.Any(IsForeign))
        )
            context.Result = new StatusCodeResult(StatusCodes.Status422UnprocessableEntity);
    }

    public void OnResourceExecuted(ResourceExecutedContext context) { }

    private static bool IsForeign(string? text) => text is not null && PlainText.Foreign(text) is not null;
}
