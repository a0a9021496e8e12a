using Microsoft.AspNetCore.Mvc.Filters;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// Finds the language of a client's request: chosen on the page (kept in a cookie that says nothing else), else that of the
/// link, else what the browser asks for.
/// </summary>
public sealed class LanguageFilter(Invitations invitations, ReviewTicket ticket, ServerSettings settings)
    : IAsyncResourceFilter
{
    public const string Query = "lang";

    public async Task OnResourceExecutionAsync(ResourceExecutingContext context, ResourceExecutionDelegate next)
    {
        var http = context.HttpContext;
        var chosen = Known(http.Request.Query[Query]);
        if (chosen is not null)
            Keep(http, chosen);
        else
            chosen = Known(http.Request.Cookies[settings.CookieName(Query)]);
        ReviewLanguage.Set(
            ReviewLanguage.Pick(
                chosen,
                chosen is null ? await OfLinkAsync(context) : null,
                http.Request.GetTypedHeaders()
                    .AcceptLanguage.OrderByDescending(l => l.Quality ?? 1)
                    .Select(l => l.Value.ToString())
            )
        );
        await next();
    }

    private string? Known(string? id) =>
        ReviewLanguage.IsPage(id) || settings.PseudoLanguage && id == ReviewLanguage.Pseudo ? id : null;

    private void Keep(HttpContext http, string chosen) =>
        http.Response.Cookies.Append(
            settings.CookieName(Query),
            chosen,
            new CookieOptions
            {
                HttpOnly = true,
                SameSite = SameSiteMode.Lax,
                Secure = settings.UsesHttps,
                Path = "/",
                MaxAge = TimeSpan.FromDays(365),
                IsEssential = true,
            }
        );

    // Only of a link this browser holds; a receipt belongs to the link that was opened last.
    private async Task<string?> OfLinkAsync(ResourceExecutingContext context)
    {
        var held = ticket.Read(context.HttpContext);
        if (held.Count == 0)
            return null;
        var named = Guid.TryParse(context.RouteData.Values["id"] as string, out var id) && held.Contains(id);
        return await invitations.LocaleAsync(named ? id : held[0], context.HttpContext.RequestAborted);
    }
}
