using Microsoft.AspNetCore.Diagnostics;

namespace ProofDesk.Web.Security;

/// <summary>
/// Refuses a state-changing request that the browser itself says comes from another site (Fetch Metadata, ASVS 5.0
/// 3.5.3). It stands in front of the antiforgery token, not in its place: programs that send no such header pass here.
/// </summary>
internal sealed class FetchSite(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext context)
    {
        var method = context.Request.Method;
        var safe = HttpMethods.IsGet(method) || HttpMethods.IsHead(method) || HttpMethods.IsOptions(method);
        var site = context.Request.Headers["Sec-Fetch-Site"].ToString();
        // The page that explains a refusal runs through here again, with the method of what was refused.
        var explaining = context.Features.Get<IStatusCodeReExecuteFeature>() is not null;
        if (safe || explaining || site is "" or "same-origin" or "none")
            return next(context);
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        return Task.CompletedTask;
    }
}
