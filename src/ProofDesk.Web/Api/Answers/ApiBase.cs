using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Net.Http.Headers;

namespace ProofDesk.Web.Api.Answers;

/// <summary>What all resources for programs share: no form tokens, answers with an ETag, problems with every mistake.</summary>
[ApiController]
[IgnoreAntiforgeryToken]
public abstract class ApiBase : ControllerBase
{
    protected const string V1 = "/api/v1";
    private const string Json = "application/json; charset=utf-8";

    protected string Actor => User.Identity!.Name!;

    /// <summary>As it is now, or 304 when the caller has it already.</summary>
    protected IActionResult Tagged<T>(T value)
    {
        var (bytes, tag) = Written(value);
        Response.Headers.ETag = tag;
        return Names(Request.Headers.IfNoneMatch.ToString(), tag)
            ? StatusCode(StatusCodes.Status304NotModified)
            : File(bytes, Json);
    }

    protected IActionResult Made<T>(string location, T value)
    {
        var (bytes, tag) = Written(value);
        Response.Headers.ETag = tag;
        Response.Headers.Location = location;
        Response.StatusCode = StatusCodes.Status201Created;
        return new MadeResult(bytes);
    }

    /// <summary>What keeps a change from being made: no If-Match, or one of another state. Null when nothing does.</summary>
    protected IActionResult? NotAsSeen<T>(T now)
    {
        var match = Request.Headers.IfMatch.ToString();
        if (match.Length == 0)
            return Problem(StatusCodes.Status428PreconditionRequired);
        return Names(match, Written(now).Tag) ? null : Problem(StatusCodes.Status412PreconditionFailed);
    }

    protected ObjectResult Problem(int status) => Problem(ApiProblem.Of(HttpContext, status));

    /// <param name="kind">its name in the documentation</param>
    protected ObjectResult Problem(int status, string kind, string title, string detail) =>
        Problem(ApiProblem.Of(HttpContext, status, kind, title, detail));

    protected ObjectResult Mend(IReadOnlyList<Mistake> mistakes)
    {
        var usual = ApiProblem.Of(HttpContext, StatusCodes.Status422UnprocessableEntity);
        return Problem(usual with { Mistakes = mistakes });
    }

    internal static ObjectResult Problem(ApiProblem problem) =>
        new(problem) { StatusCode = problem.Status, ContentTypes = { ApiProblem.MediaType } };

    private static (byte[] Bytes, string Tag) Written<T>(T value)
    {
        var bytes = JsonSerializer.SerializeToUtf8Bytes(value, ApiJson.Options);
        return (bytes, $"\"{Base64Url.EncodeToString(SHA256.HashData(bytes).AsSpan(0, 18))}\"");
    }

    private static bool Names(string header, string tag) =>
        header == "*"
        || (
            EntityTagHeaderValue.TryParseList([header], out var all)
            && all.Any(one => string.Equals(one.Tag.ToString(), tag, StringComparison.Ordinal))
        );

    private sealed class MadeResult(byte[] bytes) : IActionResult
    {
        public Task ExecuteResultAsync(ActionContext context)
        {
            var response = context.HttpContext.Response;
            response.ContentType = Json;
            response.ContentLength = bytes.Length;
            return response.Body.WriteAsync(bytes, context.HttpContext.RequestAborted).AsTask();
        }
    }
}
