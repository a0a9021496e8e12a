using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Controllers;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.Routing.Patterns;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>One method of one route, as the running server has it.</summary>
public sealed record ServedRoute(string Method, RouteEndpoint Endpoint)
{
    /// <summary>A route that takes whatever method.</summary>
    public const string Any = "any";

    public static IReadOnlyList<ServedRoute> Of(EndpointDataSource source) =>
        [
            .. source
                .Endpoints.OfType<RouteEndpoint>()
                .SelectMany(e =>
                    (e.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? [Any]).Select(m => new ServedRoute(
                        m,
                        e
                    ))
                )
                .OrderBy(r => r.Path, StringComparer.Ordinal)
                .ThenBy(r => r.Method, StringComparer.Ordinal),
        ];

    /// <summary>The route without its constraints: /orders/{id}/edit.</summary>
    public string Path =>
        "/" + string.Join('/', Endpoint.RoutePattern.PathSegments.Select(s => Say(s, p => $"{{{p}}}")));

    public string Name => $"{Method} {Path}";

    public bool Writes => Method is not ("GET" or Any);

    /// <summary>A key is asked for, and no cookie looked at.</summary>
    public bool IsForPrograms => Path.StartsWith("/api/", StringComparison.Ordinal);

    /// <summary>Nobody is asked who he is.</summary>
    public bool IsOpen => Endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null;

    /// <summary>Whoever comes here signs in, whatever session they came with.</summary>
    public bool MakesSession => Endpoint.Metadata.GetMetadata<SignsInAttribute>() is not null;

    /// <summary>The policies and roles it names; none is the rule for all: signed in.</summary>
    public IEnumerable<string> Policies =>
        Endpoint
            .Metadata.GetOrderedMetadata<IAuthorizeData>()
            .Select(a => a.Policy ?? a.Roles ?? "")
            .Where(p => p.Length > 0)
            .Distinct();

    /// <summary>A form is refused unless it carries its token. The innermost attribute counts.</summary>
    public bool WantsToken =>
        (Endpoint.Metadata.GetMetadata<ControllerActionDescriptor>()?.FilterDescriptors ?? [])
            .Where(f =>
                f.Filter
                    is AutoValidateAntiforgeryTokenAttribute
                        or ValidateAntiForgeryTokenAttribute
                        or IgnoreAntiforgeryTokenAttribute
            )
            .OrderBy(f => f.Scope)
            .LastOrDefault()
            ?.Filter
            is AutoValidateAntiforgeryTokenAttribute
                or ValidateAntiForgeryTokenAttribute;

    public IEnumerable<string> Parameters => Endpoint.RoutePattern.Parameters.Select(p => p.Name);

    /// <summary>An address of this route.</summary>
    public string Address(Func<string, string, string> value) =>
        "/" + string.Join('/', Endpoint.RoutePattern.PathSegments.Select(s => Say(s, p => value(Path, p))));

    private static string Say(RoutePatternPathSegment segment, Func<string, string> parameter) =>
        string.Concat(
            segment.Parts.Select(part =>
                part switch
                {
                    RoutePatternLiteralPart literal => literal.Content,
                    RoutePatternSeparatorPart between => between.Content,
                    RoutePatternParameterPart named => parameter(named.Name),
                    _ => "",
                }
            )
        );
}
