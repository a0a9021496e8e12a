using System.Globalization;
using Microsoft.AspNetCore.Mvc;

namespace ProofDesk.Web.SignIn;

/// <summary>The same form once more: too many tries.</summary>
internal static class TriesAnswers
{
    public static ViewResult TooMany(
        this Controller controller,
        string view,
        object model,
        TimeSpan wait,
        string meanwhile = ""
    )
    {
        var seconds = Math.Max(1, (int)Math.Ceiling(wait.TotalSeconds));
        controller.Response.StatusCode = StatusCodes.Status429TooManyRequests;
        controller.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        controller.ModelState.AddModelError(
            "",
            $"Too many tries. The next one counts in {Wait(seconds)}; what is sent before is not looked at. {meanwhile}".Trim()
        );
        return controller.View(view, model);
    }

    /// <summary>"4 minutes", rounded up.</summary>
    internal static string Wait(int seconds)
    {
        var (n, unit) = seconds switch
        {
            <= 90 => (seconds, "second"),
            <= 90 * 60 => ((seconds + 59) / 60, "minute"),
            _ => ((seconds + 3599) / 3600, "hour"),
        };
        return $"{n} {unit}{(n == 1 ? "" : "s")}";
    }
}
