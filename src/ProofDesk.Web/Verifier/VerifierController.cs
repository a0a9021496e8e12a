using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;

namespace ProofDesk.Web.Verifier;

[AllowAnonymous]
public sealed class VerifierController(VerifyPage page) : Controller
{
    [HttpGet("/verify.html")]
    public IActionResult Show()
    {
        Response.Headers.ContentSecurityPolicy = page.Policy;
        return Content(page.Html, "text/html; charset=utf-8");
    }
}
