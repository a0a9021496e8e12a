namespace ProofDesk.Web.Security;

/// <summary>HEAD is GET without the body (RFC 9110 9.3.2): the same route answers, its bytes go nowhere.</summary>
internal sealed class HeadRequests(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext context)
    {
        if (HttpMethods.IsHead(context.Request.Method))
        {
            context.Request.Method = HttpMethods.Get;
            context.Response.Body = Stream.Null;
        }
        return next(context);
    }
}
