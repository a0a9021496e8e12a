namespace ProofDesk.Web.Security;

/// <summary>HEAD is GET without the body (RFC 9110 9.3.2): the same route answers, its bytes go nowhere.</summary>
internal sealed class HeadRequests(RequestDelegate next)
{
    private static readonly object Asked = new();

    /// <summary>Whether somebody is about to look at the answer: not after HEAD, and not when a browser fetches ahead.</summary>
    public static bool IsLookedAt(HttpContext context) =>
        !context.Items.ContainsKey(Asked)
        && !context.Request.Headers["Sec-Purpose"].ToString().Contains("prefetch", StringComparison.OrdinalIgnoreCase)
        && !context.Request.Headers["Purpose"].ToString().Contains("prefetch", StringComparison.OrdinalIgnoreCase);

    public Task InvokeAsync(HttpContext context)
    {
        if (HttpMethods.IsHead(context.Request.Method))
        {
            context.Items[Asked] = true;
            context.Request.Method = HttpMethods.Get;
            context.Response.Body = Stream.Null;
        }
        return next(context);
    }
}
