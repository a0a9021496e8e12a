using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Filters;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Api.Access;

namespace ProofDesk.Web.Api.Answers;

/// <summary>
/// A request that makes something may name itself with Idempotency-Key: however often it comes, the thing is made once and the first
/// answer given again. What was refused is not kept, so it may be mended and sent under the same name.
/// </summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class OnceAttribute : Attribute, IAsyncResourceFilter, IOrderedFilter
{
    public const string Header = "Idempotency-Key";
    public const string Replayed = "Idempotency-Replayed";
    private const int LongestName = 200;

    /// <summary>Things one key makes in a minute.</summary>
    public const int MostPerMinute = 60;

    // Before anything reads the body.
    public int Order => int.MinValue;

    public async Task OnResourceExecutionAsync(ResourceExecutingContext context, ResourceExecutionDelegate next)
    {
        var http = context.HttpContext;
        if (KeyHandler.KeyOf(http.User) is not { } key)
        {
            await next();
            return;
        }
        if (await WaitAsync(http, key) is { } seconds)
        {
            http.Response.Headers.RetryAfter = seconds.ToString();
            context.Result = ApiBase.Problem(ApiProblem.Of(http, StatusCodes.Status429TooManyRequests));
            return;
        }
        var name = http.Request.Headers[Header].ToString().Trim();
        if (name.Length == 0)
        {
            await next();
            return;
        }
        if (name.Length > LongestName)
        {
            context.Result = Refused(
                http,
                StatusCodes.Status422UnprocessableEntity,
                $"{Header} has {name.Length} characters, at most {LongestName} are possible. A random UUID does."
            );
            return;
        }
        await NamedAsync(context, next, key, name);
    }

    private static async Task NamedAsync(
        ResourceExecutingContext context,
        ResourceExecutionDelegate next,
        Guid key,
        string name
    )
    {
        var http = context.HttpContext;
        var answers = http.RequestServices.GetRequiredService<ApiAnswers>();
        var claimed = await answers.ClaimAsync(key, name, await DigestAsync(http.Request), http.RequestAborted);
        switch (claimed)
        {
            case Claimed.Answered before:
                context.Result = new ReplayedResult(before.Answer);
                break;
            case Claimed.AnotherRequest:
                context.Result = Refused(
                    http,
                    StatusCodes.Status422UnprocessableEntity,
                    $"Another request was sent under this {Header}. Use a new one for each thing to be made."
                );
                break;
            case Claimed.Unfinished unfinished:
                context.Result = Refused(
                    http,
                    StatusCodes.Status409Conflict,
                    $"The request of this {Header}, sent {unfinished.Since:yyyy-MM-dd HH:mm:ss} UTC, has no answer yet. Wait a moment; if it stays like this, look whether the thing was made, and use another {Header} if not."
                );
                break;
            case Claimed.First first:
                await FirstAsync(http, next, answers, first.ClaimId);
                break;
            default:
                throw new InvalidOperationException($"{claimed} is not known");
        }
    }

    private static async Task FirstAsync(
        HttpContext http,
        ResourceExecutionDelegate next,
        ApiAnswers answers,
        Guid claim
    )
    {
        var wire = http.Response.Body;
        using var body = new MemoryStream();
        http.Response.Body = body;
        try
        {
            var done = await next();
            http.Response.Body = wire;
            var response = http.Response;
            if (done.Exception is null && response.StatusCode is >= 200 and < 300)
                await answers.KeepAsync(
                    claim,
                    new ApiAnswer
                    {
                        NameSha256 = [],
                        RequestSha256 = [],
                        Status = response.StatusCode,
                        ContentType = response.ContentType ?? "",
                        Location = response.Headers.Location.ToString(),
                        ETag = response.Headers.ETag.ToString(),
                        Body = body.ToArray(),
                    },
                    CancellationToken.None
                );
            else
                await answers.ReleaseAsync(claim, CancellationToken.None);
            body.Position = 0;
            await body.CopyToAsync(wire, http.RequestAborted);
        }
        finally
        {
            http.Response.Body = wire;
        }
    }

    private static async Task<int?> WaitAsync(HttpContext http, Guid key)
    {
        var limit = new WindowLimit("api-making", key.ToString(), MostPerMinute, TimeSpan.FromMinutes(1));
        var opens = await http.RequestServices.GetRequiredService<TryCounts>().TakeAsync([limit], http.RequestAborted);
        var now = http.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow();
        return opens is { } then ? Math.Max(1, (int)Math.Ceiling((then - now).TotalSeconds)) : null;
    }

    private static ObjectResult Refused(HttpContext http, int status, string detail) =>
        ApiBase.Problem(ApiProblem.Of(http, status, "idempotency-key", "This name was used", detail));

    // Method, address and content. The parts of a form are taken apart: what parts them is another text each time.
    private static async Task<byte[]> DigestAsync(HttpRequest request)
    {
        var cancel = request.HttpContext.RequestAborted;
        using var digest = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        void Say(string? text) => digest.AppendData(SHA256.HashData(Encoding.UTF8.GetBytes(text ?? "")));
        Say($"{request.Method} {request.Path}{request.QueryString}");
        if (request.HasFormContentType)
        {
            var form = await request.ReadFormAsync(cancel);
            foreach (var (name, values) in form.OrderBy(field => field.Key, StringComparer.Ordinal))
            {
                Say(name);
                Say(values.ToString());
            }
            foreach (var file in form.Files)
            {
                Say(file.Name);
                Say(file.FileName);
                await using var bytes = file.OpenReadStream();
                digest.AppendData(await SHA256.HashDataAsync(bytes, cancel));
            }
        }
        else
        {
            request.EnableBuffering();
            digest.AppendData(await SHA256.HashDataAsync(request.Body, cancel));
            request.Body.Position = 0;
        }
        return digest.GetHashAndReset();
    }

    private sealed class ReplayedResult(ApiAnswer answer) : IActionResult
    {
        public Task ExecuteResultAsync(ActionContext context)
        {
            var response = context.HttpContext.Response;
            response.StatusCode = answer.Status;
            response.ContentType = answer.ContentType;
            response.Headers[Replayed] = "true";
            if (answer.Location.Length > 0)
                response.Headers.Location = answer.Location;
            if (answer.ETag.Length > 0)
                response.Headers.ETag = answer.ETag;
            return response.Body.WriteAsync(answer.Body, context.HttpContext.RequestAborted).AsTask();
        }
    }
}
