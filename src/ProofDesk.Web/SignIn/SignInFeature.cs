using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// Staff accounts. Passwords of 15 characters or more without composition rules (NIST SP 800-63B-4 3.1.1.2), a second factor from an
/// authenticator app, passkeys, sessions as rows, and a one-time link for the owner's first password. What each may do:
/// Security/Policies.
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
                // Tries are counted by SignInLimits: Identity's counter would let any stranger close an account.
                o.Lockout.MaxFailedAccessAttempts = int.MaxValue;
                o.User.RequireUniqueEmail = true;
                o.Stores.SchemaVersion = IdentitySchemaVersions.Version3;
            })
            .AddUserStore<AccountStore>()
            .AddUserManager<StaffAccounts>()
            .AddSignInManager()
            .AddPasswordValidator<PasswordRules>()
            // No code by mail or telephone: neither is a factor (NIST SP 800-63B-4 3.1.3.1).
            .AddTokenProvider<DataProtectorTokenProvider<StaffUser>>(TokenOptions.DefaultProvider)
            .AddTokenProvider<AuthenticatorCode>(AuthenticatorCode.Provider);
        services.Configure<IdentityPasskeyOptions>(o =>
        {
            o.ServerDomain = PasskeyReach.Domain(settings);
            o.UserVerificationRequirement = "required";
            o.ResidentKeyRequirement = "required";
            o.ValidateOrigin = asked =>
                ValueTask.FromResult(!asked.CrossOrigin && asked.Origin == PasskeyReach.Origin(settings));
        });
        services
            .AddAuthentication(IdentityConstants.ApplicationScheme)
            .AddCookie(
                IdentityConstants.ApplicationScheme,
                o =>
                {
                    Shape(o, settings, "staff");
                    o.CookieManager = new SessionCookie();
                    o.ExpireTimeSpan = Sessions.Longest;
                    o.SlidingExpiration = false;
                }
            )
            // Between password and second step, and while a passkey is asked for.
            .AddCookie(
                IdentityConstants.TwoFactorUserIdScheme,
                o =>
                {
                    Shape(o, settings, "second-step");
                    o.ExpireTimeSpan = TimeSpan.FromMinutes(10);
                }
            );
        services.AddSingleton<SessionTickets>();
        services
            .AddOptions<CookieAuthenticationOptions>(IdentityConstants.ApplicationScheme)
            .Configure<SessionTickets>((o, tickets) => o.SessionStore = tickets);
        services.Configure<DataProtectionTokenProviderOptions>(o => o.TokenLifespan = TimeSpan.FromDays(1));
        services.AddScoped<OwnerLink>().AddScoped<StaffSignIn>();
    }

    private static void Shape(CookieAuthenticationOptions o, ServerSettings settings, string name)
    {
        o.Cookie.Name = settings.CookieName(name);
        o.Cookie.HttpOnly = true;
        o.Cookie.SameSite = SameSiteMode.Lax;
        o.Cookie.SecurePolicy = settings.CookieSecurity;
        // No way back is carried along: an address in the address would be an open redirect.
        o.Events.OnRedirectToLogin = o.Events.OnRedirectToAccessDenied = toSignIn =>
        {
            toSignIn.Response.Redirect("/sign-in");
            return Task.CompletedTask;
        };
    }
}
