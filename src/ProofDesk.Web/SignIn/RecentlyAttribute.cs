using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Filters;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// Only for who proved within the last minutes (10, a few more for sending the form) that it is still they: password or passkey once
/// more, then back. Put it on the page with the form and on what the form sends to.
/// </summary>
[AttributeUsage(AttributeTargets.Class | AttributeTargets.Method)]
public sealed class RecentlyAttribute : Attribute, IAsyncAuthorizationFilter
{
    private static readonly TimeSpan Grace = TimeSpan.FromMinutes(5);

    /// <summary>Where a form that came too late leads to afterwards; the page it was sent to when nothing is said.</summary>
    public string? Back { get; set; }

    public Task OnAuthorizationAsync(AuthorizationFilterContext context)
    {
        var http = context.HttpContext;
        if (http.User.Identity?.IsAuthenticated != true)
            return Task.CompletedTask;
        var settings = http.RequestServices.GetRequiredService<ServerSettings>();
        var now = http.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow();
        var proven = SessionTickets.ProvenAt(
            http.Features.Get<IAuthenticateResultFeature>()?.AuthenticateResult?.Properties
        );
        var isForm = !HttpMethods.IsGet(http.Request.Method);
        if (proven + TimeSpan.FromMinutes(settings.RecentMinutes) + (isForm ? Grace : TimeSpan.Zero) > now)
            return Task.CompletedTask;
        var back = isForm ? Back ?? http.Request.Path : http.Request.Path + http.Request.QueryString;
        http.Response.Headers.CacheControl = "no-store";
        context.Result = new RedirectResult(
            "/account/again?then=" + Uri.EscapeDataString(back) + (isForm ? "&late=true" : "")
        );
        return Task.CompletedTask;
    }
}
