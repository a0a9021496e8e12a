using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Filters;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using Microsoft.AspNetCore.Mvc.ViewFeatures;
using Microsoft.Data.Sqlite;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Api.Answers;

namespace ProofDesk.Web.Layout;

/// <summary>What was sent and could not be written: the same form again, with everything in it.</summary>
public sealed record Busy(string Title, string Text, string Action, IReadOnlyList<(string Name, string Value)> Fields);

/// <summary>
/// A database that another writer holds, or a log that will not sign, is not a broken page: 503, when to come back, and the
/// form's content kept. The nonce in it makes a second press the same decision.
/// </summary>
internal sealed class BusyFilter(IModelMetadataProvider metadata, ILogger<BusyFilter> log) : IExceptionFilter
{
    private const int SqliteBusy = 5;
    private const int SqliteLocked = 6;
    private const int SqliteFull = 13;
    private const int NoSpaceLeft = 28;

    // Kept out of the page that is written back.
    private static readonly string[] Never = ["__RequestVerificationToken", "Password", "NewPassword"];

    public void OnException(ExceptionContext context)
    {
        var (seconds, text) = Causes(context.Exception)
            .Select(e =>
                e switch
                {
                    SqliteException { SqliteErrorCode: SqliteBusy or SqliteLocked } => (
                        5,
                        "Somebody else is writing just now. Nothing was written of what you sent; it is kept below."
                    ),
                    SqliteException { SqliteErrorCode: SqliteFull } or IOException { HResult: NoSpaceLeft } => (
                        120,
                        "Our disk is full. Nothing was written of what you sent; it is kept below. We are told of it; please try again later or telephone us."
                    ),
                    LogRefusedException => (
                        600,
                        "Our record book is closed until we have looked at it. Nothing was written of what you sent. Please telephone us."
                    ),
                    _ => (0, ""),
                }
            )
            .FirstOrDefault(answer => answer.Item1 > 0);
        if (seconds == 0)
            return;
        log.LogError(context.Exception, "answered 503 to {Path}", context.HttpContext.Request.Path);
        var http = context.HttpContext;
        http.Response.Headers.RetryAfter = seconds.ToString();
        if (ApiProblem.IsAskedByProgram(http))
        {
            context.Result = ApiBase.Problem(ApiProblem.Of(http, StatusCodes.Status503ServiceUnavailable));
            context.ExceptionHandled = true;
            return;
        }
        context.Result = new ViewResult
        {
            ViewName = "Busy",
            StatusCode = StatusCodes.Status503ServiceUnavailable,
            ViewData = new ViewDataDictionary<Busy>(metadata, new ModelStateDictionary())
            {
                Model = new Busy("Not written yet", text, http.Request.Path, Fields(http.Request)),
            },
        };
        context.ExceptionHandled = true;
    }

    private static IEnumerable<Exception> Causes(Exception failure)
    {
        for (var cause = failure; cause is not null; cause = cause.InnerException)
            yield return cause;
    }

    private static IReadOnlyList<(string Name, string Value)> Fields(HttpRequest request) =>
        HttpMethods.IsPost(request.Method) && request.HasFormContentType && request.Form.Files.Count == 0
            ?
            [
                .. request
                    .Form.Where(f => !Never.Contains(f.Key))
                    .SelectMany(f => f.Value.Select(v => (f.Key, v ?? ""))),
            ]
            : [];
}
