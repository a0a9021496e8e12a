using Microsoft.AspNetCore.Diagnostics;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Security;

/// <summary>
/// Refuses a body that says it is larger than the server reads, before anything reads it. Without this the form's token could
/// not be found in it, and who sent a file too large was told that the form had gone stale.
/// </summary>
internal sealed class BodySize(RequestDelegate next, ServerSettings settings)
{
    public Task InvokeAsync(HttpContext context)
    {
        // The page that explains the refusal comes through here again.
        var explaining = context.Features.Get<IStatusCodeReExecuteFeature>() is not null;
        if (explaining || context.Request.ContentLength is not { } length || length <= settings.MostBodyBytes)
            return next(context);
        context.Response.StatusCode = StatusCodes.Status413PayloadTooLarge;
        return Task.CompletedTask;
    }
}
