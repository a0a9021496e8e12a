using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Data.Sqlite;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>Breaks on purpose. Only on the servers of these tests.</summary>
[AllowAnonymous]
[Route("/test-only")]
public sealed class TestOnlyController : Controller
{
    [HttpGet("broken")]
    public IActionResult Broken() => throw new InvalidOperationException("broken on purpose");

    [HttpGet("busy")]
    public IActionResult Busy() => throw new SqliteException("database is locked", 5);

    /// <summary>Forgets to ask for the form's token.</summary>
    [HttpPost("forgetful")]
    [IgnoreAntiforgeryToken]
    public IActionResult Forgetful() => Ok();

    /// <summary>Writes what it is given into the page as it is: what the detector must find.</summary>
    [HttpGet("echo")]
    public IActionResult Echo(string? what) =>
        Content(
            $"<!doctype html><html lang=\"en\"><title>echo</title><p>{what}</p></html>",
            "text/html; charset=utf-8"
        );

    /// <summary>The same under a policy that lets it run: what the bell in the browser must hear.</summary>
    [HttpGet("unguarded-echo")]
    public IActionResult Unguarded(string? what)
    {
        Response.Headers.ContentSecurityPolicy = "script-src 'unsafe-inline'";
        return Echo(what);
    }
}
