using System.Globalization;
using System.Security.Claims;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Limits;

namespace ProofDesk.Web.SignIn;

/// <summary>
/// Tickets in the database, sealed; the cookie holds a key. Each request reads row and account again, so that an ended session, a
/// changed password or a person locked out closes at once, on every node.
/// </summary>
internal sealed class SessionTickets(
    Sessions sessions,
    IDataProtectionProvider protection,
    IOptions<IdentityOptions> identity,
    TimeProvider time
) : ITicketStore
{
    /// <summary>The claim that names the row.</summary>
    public const string SessionClaim = "proofdesk:session";

    private const string Proven = "proofdesk:proven";
    private readonly IDataProtector seal = protection.CreateProtector("staff-session/1");

    /// <summary>The row of the session at hand.</summary>
    public static Guid? Of(ClaimsPrincipal person) =>
        Guid.TryParse(person.FindFirstValue(SessionClaim), out var id) ? id : null;

    /// <summary>When whoever sits there last proved who they are; null when nobody knows.</summary>
    public static DateTimeOffset? ProvenAt(AuthenticationProperties? properties) =>
        properties?.Items.TryGetValue(Proven, out var text) == true
        && long.TryParse(text, CultureInfo.InvariantCulture, out var seconds)
            ? DateTimeOffset.FromUnixTimeSeconds(seconds)
            : null;

    public static void SetProven(AuthenticationProperties properties, DateTimeOffset at) =>
        properties.Items[Proven] = at.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);

    public Task<string> StoreAsync(AuthenticationTicket ticket) => OpenAsync(ticket, null, CancellationToken.None);

    public Task<string> StoreAsync(
        AuthenticationTicket ticket,
        HttpContext httpContext,
        CancellationToken cancellationToken
    ) => OpenAsync(ticket, httpContext, cancellationToken);

    public Task RenewAsync(string key, AuthenticationTicket ticket) => sessions.KeepAsync(key, Sealed(ticket));

    public async Task<AuthenticationTicket?> RetrieveAsync(string key)
    {
        if (await sessions.FindAsync(key) is not { } open)
            return null;
        AuthenticationTicket? ticket;
        try
        {
            ticket = TicketSerializer.Default.Deserialize(seal.Unprotect(open.Ticket));
        }
        catch (CryptographicException)
        {
            return null;
        }
        var stamp = ticket?.Principal.FindFirstValue(identity.Value.ClaimsIdentity.SecurityStampClaimType);
        if (ticket is null || stamp is null || stamp != open.SecurityStamp)
            return null;
        ((ClaimsIdentity)ticket.Principal.Identity!).AddClaim(new Claim(SessionClaim, open.Id.ToString()));
        return ticket;
    }

    public Task RemoveAsync(string key) => sessions.EndAsync(key);

    private Task<string> OpenAsync(AuthenticationTicket ticket, HttpContext? http, CancellationToken cancel)
    {
        var isNew = ProvenAt(ticket.Properties) is null;
        if (isNew)
            SetProven(ticket.Properties, time.GetUtcNow());
        var person = ticket.Principal;
        return sessions.OpenAsync(
            Guid.Parse(person.FindFirstValue(identity.Value.ClaimsIdentity.UserIdClaimType)!),
            Sealed(ticket),
            Networks.Shown(http?.Connection.RemoteIpAddress),
            Agents.Say(http?.Request.Headers.UserAgent.ToString()),
            ticket.Properties.ExpiresUtc,
            isNew ? person.Identity?.Name : null,
            cancel
        );
    }

    private byte[] Sealed(AuthenticationTicket ticket) => seal.Protect(TicketSerializer.Default.Serialize(ticket));
}
