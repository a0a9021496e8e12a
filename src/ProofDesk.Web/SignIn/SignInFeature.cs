using Microsoft.AspNetCore.Identity;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// Staff accounts. Passwords of 15 characters or more without composition rules (NIST SP 800-63B-4 3.1.1.2), lockout, and
/// a one-time link for the owner's first password. What each may do: Security/Policies.
/// </summary>
internal static class SignInFeature
{
    public static void Add(IServiceCollection services, ServerSettings settings)
    {
        services
            .AddIdentityCore<StaffUser>(o =>
            {
                o.Password.RequiredLength = 15;
                o.Password.RequiredUniqueChars = 6;
                o.Password.RequireDigit = false;
                o.Password.RequireLowercase = false;
                o.Password.RequireUppercase = false;
                o.Password.RequireNonAlphanumeric = false;
                o.Lockout.MaxFailedAccessAttempts = 8;
                o.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(15);
                o.User.RequireUniqueEmail = true;
            })
            .AddEntityFrameworkStores<OfficeDb>()
            .AddSignInManager()
            .AddDefaultTokenProviders();
        services
            .AddAuthentication(IdentityConstants.ApplicationScheme)
            .AddCookie(
                IdentityConstants.ApplicationScheme,
                o =>
                {
                    o.Cookie.Name = settings.CookieName("staff");
                    o.Cookie.HttpOnly = true;
                    o.Cookie.SameSite = SameSiteMode.Lax;
                    o.Cookie.SecurePolicy = settings.CookieSecurity;
                    o.ExpireTimeSpan = TimeSpan.FromHours(12);
                    o.SlidingExpiration = true;
                    // No way back is carried along: an address in the address would be an open redirect.
                    o.Events.OnRedirectToLogin = o.Events.OnRedirectToAccessDenied = toSignIn =>
                    {
                        toSignIn.Response.Redirect("/sign-in");
                        return Task.CompletedTask;
                    };
                    o.Events.OnValidatePrincipal = SecurityStampValidator.ValidatePrincipalAsync;
                }
            );
        services.Configure<SecurityStampValidatorOptions>(o => o.ValidationInterval = TimeSpan.FromMinutes(1));
        services.Configure<DataProtectionTokenProviderOptions>(o => o.TokenLifespan = TimeSpan.FromDays(1));
        services.AddScoped<OwnerLink>();
    }
}
