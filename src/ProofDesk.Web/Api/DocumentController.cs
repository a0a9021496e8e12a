using System.Text.Json;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using ProofDesk.Web.Api.Document;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Api;

/// <summary>The document for programs, and the same document as a page for people.</summary>
[ApiExplorerSettings(IgnoreApi = true)]
public sealed class DocumentController([FromKeyedServices(ApiDocument.Name)] IOpenApiDocumentProvider documents)
    : Controller
{
    /// <summary>Says what the program can do and nothing of this shop.</summary>
    [HttpGet("/api/v1/openapi.json")]
    [AllowAnonymous]
    public async Task<IActionResult> Show(CancellationToken cancel) =>
        Content(await JsonAsync(cancel), "application/json; charset=utf-8");

    [HttpGet(GuidePage.Address)]
    [Needs(Right.ReadOrders)]
    public async Task<IActionResult> Guide(CancellationToken cancel)
    {
        using var document = JsonDocument.Parse(await JsonAsync(cancel));
        return View("Guide", GuidePage.Of(document.RootElement));
    }

    private async Task<string> JsonAsync(CancellationToken cancel)
    {
        var document = await documents.GetOpenApiDocumentAsync(cancel);
        return await document.SerializeAsJsonAsync(OpenApiSpecVersion.OpenApi3_1, cancel);
    }
}
