using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Authorization.Policy;

namespace ProofDesk.Web.Security.Policies;

/// <summary>
/// One policy a right, and nothing else: what names no right answers nobody, signed in or not. Without the right the answer is the
/// page for what does not exist; not signed in, it is the sign-in page.
/// </summary>
internal static class RightPolicies
{
    public static void Add(IServiceCollection services)
    {
        services.AddScoped<PersonAtDesk>();
        services.AddScoped<IAuthorizationHandler, RightHandler>();
        services.AddSingleton<IAuthorizationMiddlewareResultHandler, HiddenWhenForbidden>();
        services.AddAuthorization(o =>
        {
            foreach (var right in Enum.GetValues<Right>())
                o.AddPolicy(
                    right.ToString(),
                    policy => policy.RequireAuthenticatedUser().AddRequirements(new RightNeeded(right))
                );
            o.DefaultPolicy = o.FallbackPolicy = new AuthorizationPolicyBuilder().RequireAssertion(_ => false).Build();
        });
    }
}

internal sealed record RightNeeded(Right Right) : IAuthorizationRequirement;

internal sealed class RightHandler(PersonAtDesk person) : AuthorizationHandler<RightNeeded>
{
    protected override Task HandleRequirementAsync(AuthorizationHandlerContext context, RightNeeded requirement)
    {
        if (person.May(requirement.Right))
            context.Succeed(requirement);
        return Task.CompletedTask;
    }
}

/// <summary>
/// 404 in place of 403 and of any redirect: who may not do a thing does not learn that it is there. Who only lacks the second step
/// that the shop asks of everybody is led to setting it up.
/// </summary>
internal sealed class HiddenWhenForbidden : IAuthorizationMiddlewareResultHandler
{
    // The router's own name for it.
    private const string MethodNotOffered = "405 HTTP Method Not Supported";

    private readonly AuthorizationMiddlewareResultHandler usual = new();

    public Task HandleAsync(
        RequestDelegate next,
        HttpContext context,
        AuthorizationPolicy policy,
        PolicyAuthorizationResult authorizeResult
    )
    {
        // What the router answers when a method fits no action is no action: it is the same 405 for everybody.
        if (!authorizeResult.Succeeded && context.GetEndpoint()?.DisplayName == MethodNotOffered)
            return next(context);
        if (!authorizeResult.Forbidden)
            return usual.HandleAsync(next, context, policy, authorizeResult);
        if (context.RequestServices.GetRequiredService<PersonAtDesk>().MustSetUp)
            context.Response.Redirect("/account/second-factor");
        else
            context.Response.StatusCode = StatusCodes.Status404NotFound;
        return Task.CompletedTask;
    }
}
