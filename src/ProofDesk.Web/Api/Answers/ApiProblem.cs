using System.ComponentModel;
using System.Diagnostics;
using Microsoft.AspNetCore.Diagnostics;
using ProofDesk.Web.Api.Access;

namespace ProofDesk.Web.Api.Answers;

/// <summary>What did not work, as RFC 9457 writes it.</summary>
public sealed record ApiProblem(
    [property: Description("Names the kind of problem; the page it leads to explains it.")] string Type,
    [property: Description("The kind in words.")] string Title,
    [property: Description("The status of the answer once more.")] int Status,
    [property: Description("What happened here and what to do next.")] string Detail,
    [property: Description("Number under which the server's log knows the request.")] string Trace,
    [property: Description("Everything to be mended in what was sent, all at once; empty when that is not the matter.")]
        IReadOnlyList<Mistake> Mistakes
)
{
    public const string MediaType = "application/problem+json";

    public static ApiProblem Of(
        HttpContext http,
        int status,
        string kind,
        string title,
        string detail,
        IReadOnlyList<Mistake>? mistakes = null
    ) => new($"{GuidePage.Address}#problem-{kind}", title, status, detail, TraceOf(http), mistakes ?? []);

    /// <summary>For an answer that has nothing but its status.</summary>
    public static ApiProblem Of(HttpContext http, int status)
    {
        var (kind, title, detail) =
            Kinds.FirstOrDefault(k => k.Status == status) is { Kind: not null } known
                ? (known.Kind, known.Title, known.Detail)
            : status >= 500
                ? (
                    "broken",
                    "Something broke on our side",
                    "Nothing that was sent was half done. Try again; if it stays like this, tell the shop the trace."
                )
            : ("refused", "That did not work", "The request was not carried out.");
        return Of(http, status, kind, title, detail);
    }

    /// <summary>Kinds that a status alone names, with what they mean.</summary>
    public static IReadOnlyList<(int Status, string Kind, string Title, string Detail)> Kinds { get; } =
    [
        (400, "not-understood", "Not understood", "The request could not be read. Compare it with the documentation."),
        (
            401,
            "no-key",
            "No key that counts",
            "Send a key of the shop: Authorization: Bearer secret-token:... A key that has ended or expired does not count; cookies never do."
        ),
        (
            403,
            "from-another-site",
            "Not from here",
            "A page of another site sent this request; it was not carried out."
        ),
        (
            404,
            "not-there",
            "Nothing here",
            "There is no such thing, or this key may not have it: its scope decides, and the answer is the same."
        ),
        (
            405,
            "method",
            "Not that way",
            "This address does not take that method; the header Allow says which it takes."
        ),
        (406, "not-acceptable", "Not in that form", "This address answers in another form than Accept asks for."),
        (409, "conflict", "Not as things stand", "What was asked for does not fit the state of the thing."),
        (
            412,
            "changed",
            "Changed meanwhile",
            "The thing is not what it was when If-Match's ETag was given. Get it again and decide anew."
        ),
        (413, "too-large", "Too large", "The body is larger than this server takes."),
        (
            415,
            "media-type",
            "Not in that form",
            "The body's Content-Type is not one that this address takes; the documentation names them."
        ),
        (422, "mistakes", "To be mended", "Nothing was written. Each mistake names its field and what to do."),
        (
            428,
            "if-match",
            "Say which state you saw",
            "This changes something: send If-Match with the ETag of the answer in which you saw it."
        ),
        (429, "too-often", "Too many requests", "Wait as long as Retry-After says and try again."),
        (503, "busy", "Busy", "Nothing was written. Wait as long as Retry-After says and try again."),
    ];

    /// <summary>Where the request went before it was led to the page of problems; null when it was not.</summary>
    public static bool IsAskedByProgram(HttpContext http) =>
        KeyHandler.IsHere(
            http.Features.Get<IStatusCodeReExecuteFeature>()?.OriginalPath is { } original ? original
            : http.Features.Get<IExceptionHandlerPathFeature>()?.Path is { } broken ? broken
            : http.Request.Path
        );

    private static string TraceOf(HttpContext http) => Activity.Current?.TraceId.ToString() ?? http.TraceIdentifier;
}

/// <summary>One thing to be mended.</summary>
public sealed record Mistake(
    [property: Description("Stable name of the mistake, for programs.")] string Code,
    [property: Description("The field, as a JSON Pointer (RFC 6901); empty for the whole.")] string Field,
    [property: Description("What is wrong, for people: the same words as in the desk.")] string Message,
    [property: Description("What was sent or measured; null when there is no number to it.")] string? Measured,
    [property: Description("What is possible; null when that cannot be said in short.")] string? Limit,
    [property: Description("What to do next.")] string NextStep
);
