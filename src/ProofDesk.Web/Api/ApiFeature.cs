using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.ApiExplorer;
using ProofDesk.Web.Api.Access;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Api.Document;

namespace ProofDesk.Web.Api;

/// <summary>The JSON API for the shop's programs: keys, resources, the document. docs/api.md.</summary>
internal static class ApiFeature
{
    public static void Add(IServiceCollection services)
    {
        services.AddAuthentication().AddScheme<AuthenticationSchemeOptions, KeyHandler>(KeyHandler.SchemeName, null);
        // Under the API the key is the only thing that is looked at; the cookie of the desk opens nothing there.
        services.Configure<CookieAuthenticationOptions>(
            IdentityConstants.ApplicationScheme,
            o => o.ForwardDefaultSelector = KeyHandler.Chosen
        );
        services.Configure<ApiBehaviorOptions>(o =>
        {
            o.SuppressMapClientErrors = true;
            o.SuppressModelStateInvalidFilter = true;
        });
        services.Configure<JsonOptions>(o => ApiJson.Set(o.JsonSerializerOptions));
        services.ConfigureHttpJsonOptions(o => ApiJson.Set(o.SerializerOptions));
        services.AddSingleton<IApiDescriptionProvider, ApiShapes>();
        ApiDocument.Add(services);
    }
}
