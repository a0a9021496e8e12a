using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Web.Security.Limits;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Security;

/// <summary>What every request meets first: headers, fetch metadata, limits, antiforgery, redacted logs.</summary>
internal static class SecurityFeature
{
    public static void Add(IServiceCollection services, ServerSettings settings)
    {
        services.AddScoped<PageNonce>();
        services.AddSingleton<MissedLinks>().AddSingleton<KnownBrowsers>().AddSingleton<SignInLimits>();
        services.AddLogging(logging =>
            logging
                .AddConsole(o =>
                    o.FormatterName = settings.JsonLogs ? RedactingJson.FormatterName : RedactingConsole.FormatterName
                )
                .AddConsoleFormatter<RedactingConsole, Microsoft.Extensions.Logging.Console.ConsoleFormatterOptions>()
                .AddConsoleFormatter<RedactingJson, Microsoft.Extensions.Logging.Console.ConsoleFormatterOptions>()
        );
        services.AddAntiforgery(o =>
        {
            o.Cookie.Name = settings.CookieName("form");
            o.Cookie.HttpOnly = true;
            o.Cookie.SameSite = SameSiteMode.Lax;
            o.Cookie.SecurePolicy = settings.CookieSecurity;
            o.SuppressXFrameOptionsHeader = true;
        });
        services.Configure<MvcOptions>(o =>
        {
            o.Filters.Add(new AutoValidateAntiforgeryTokenAttribute());
            o.Filters.Add(new PlainTextFilter());
        });
        services.AddRateLimiter(o =>
        {
            o.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            o.OnRejected = (rejected, _) =>
            {
                rejected.HttpContext.Response.Headers.RetryAfter = "60";
                return ValueTask.CompletedTask;
            };
            o.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(context =>
                RateLimitPartition.GetTokenBucketLimiter(
                    context.Connection.RemoteIpAddress?.ToString() ?? "none",
                    _ => new TokenBucketRateLimiterOptions
                    {
                        TokenLimit = settings.RequestsPerMinute,
                        TokensPerPeriod = settings.RequestsPerMinute / 60 + 1,
                        ReplenishmentPeriod = TimeSpan.FromSeconds(1),
                    }
                )
            );
        });
    }

    public static void Use(WebApplication app)
    {
        app.UseMiddleware<ResponseHeaders>();
        app.UseExceptionHandler("/problem/500");
        app.UseStatusCodePagesWithReExecute("/problem/{0}");
        app.UseMiddleware<BodySize>();
        app.UseMiddleware<FetchSite>();
        app.UseMiddleware<HeadRequests>();
        app.UseRateLimiter();
    }
}
