using Microsoft.AspNetCore.Mvc;
using ProofDesk.Web.Security;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Production;

/// <param name="Camera">start reading at once</param>
public sealed record ScanPage(string Code, ScanAnswer? Answer, bool Camera);

/// <summary>Reads the square code of a film with a phone, or takes it typed. Asking changes nothing, so it is a GET.</summary>
[Needs(Right.ReadOrders)]
public sealed class ScansController(Scans scans) : Controller
{
    [HttpGet("/scan")]
    public async Task<IActionResult> Show(string? code, bool camera, CancellationToken cancel)
    {
        ResponseHeaders.AllowCamera(HttpContext);
        var text = code?.Trim() ?? "";
        return View("Scan", new ScanPage(text, text.Length == 0 ? null : await scans.OfAsync(text, cancel), camera));
    }
}
