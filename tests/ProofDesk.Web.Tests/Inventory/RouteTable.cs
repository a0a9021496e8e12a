using System.Text;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>
/// The table of docs/routes.md. What the server can be asked about itself is asked; what a route that is open to everybody
/// checks by itself is written down here, and the requests of <see cref="RouteInventoryTests"/> hold it to that.
/// </summary>
public static class RouteTable
{
    public const string Everybody = "everybody";
    public const string OwnLink = "who holds a link of the order";
    public const string OwnSheet = "who holds a link of the sheet";

    /// <summary>Who gets something from a route that asks nobody to sign in. A route missing here is a fault.</summary>
    public static IReadOnlyDictionary<string, string> Opened { get; } =
        new Dictionary<string, string>
        {
            ["/"] = Everybody,
            ["/api/v1/openapi.json"] = Everybody,
            ["/live"] = Everybody,
            ["/ready"] = Everybody,
            ["/metrics"] = "ReadHouse, or this machine on a port of its own",
            ["/problem/{status}"] = Everybody,
            ["/sign-in"] = Everybody,
            ["/sign-in/second-step"] = Everybody,
            ["/sign-in/passkey"] = Everybody,
            ["/sign-in/passkey/options"] = Everybody,
            ["/sign-out"] = Everybody,
            ["/join/{token}"] = "who holds the one-time link",
            ["/verify.html"] = Everybody,
            ["/welcome/{code}"] = "who holds the one-time link",
            ["/r/{token}"] = "who has the link",
            ["/r/{token}/reminders"] = "who has the link",
            ["/f/{sha256}/{name}"] = "ReadOrders, or who holds a link of a version that binds it",
            ["/f/{sha256}/w{width}/{name}.png"] = "ReadOrders, or who holds a link of a version that binds it",
            ["/f/{sha256}/w{width}/{name}.webp"] = "ReadOrders, or who holds a link of a version that binds it",
            ["/f/{sha256}/tiles/{level}/{x}_{y}.png"] = "ReadOrders, or who holds a link of a version that binds it",
            ["/review/{id}"] = OwnLink,
            ["/review/{id}/approve"] = OwnLink,
            ["/review/{id}/art.png"] = OwnLink,
            ["/review/{id}/changes"] = OwnLink,
            ["/review/{id}/code"] = OwnLink,
            ["/review/{id}/confirm"] = OwnLink,
            ["/review/{id}/decision"] = OwnLink,
            ["/review/{id}/loupe.png"] = OwnLink,
            ["/review/{id}/new-link"] = OwnLink,
            ["/review/{id}/passing-on"] = OwnLink,
            ["/review/{id}/reminders"] = OwnLink,
            ["/review/{id}/sample.jpg"] = OwnLink,
            ["/receipt/{id}"] = OwnLink,
            ["/receipt/{id}/dispute"] = OwnLink,
            ["/receipt/{id}/packet.zip"] = OwnLink,
            ["/receipt/{id}/withdrawal"] = OwnLink,
            ["/dispute/{id}"] = "who holds the link of the receipt",
            ["/c/{token}"] = "who has the link",
            ["/compared/{id}"] = OwnSheet,
            ["/compared/{id}/cells/{cellId}/w{width}/{picture}.png"] = OwnSheet,
            ["/compared/{id}/preference"] = OwnSheet,
        };

    private const string ForEver = "private, max-age=31536000, immutable";

    /// <summary>What a browser may keep; everything else is "no-store".</summary>
    public static IReadOnlyDictionary<string, string> Kept { get; } =
        new Dictionary<string, string>
        {
            ["/api/v1/files/{sha256}"] = ForEver,
            ["/f/{sha256}/{name}"] = ForEver,
            ["/f/{sha256}/w{width}/{name}.png"] = ForEver,
            ["/f/{sha256}/w{width}/{name}.webp"] = ForEver,
            ["/f/{sha256}/tiles/{level}/{x}_{y}.png"] = ForEver,
            ["/production/{eventId}/photo.jpg"] = ForEver,
            ["/versions/{id}/light-table/film.png"] = ForEver,
            ["/versions/{id}/art.png"] = "private, max-age=3600",
            ["/versions/{id}/against/{other}/difference.png"] = ForEver,
            ["/versions/{id}/loupe.png"] = "private, max-age=3600",
            ["/review/{id}/art.png"] = "private, max-age=3600",
            ["/review/{id}/loupe.png"] = "private, max-age=3600",
            ["/review/{id}/sample.jpg"] = "private, max-age=600",
            ["/compare/{sheetId}/cells/{cellId}/w{width}/{picture}.png"] = "private, max-age=600",
            ["/compared/{id}/cells/{cellId}/w{width}/{picture}.png"] = "private, max-age=600",
        };

    /// <summary>Forms that are answered without anything being written.</summary>
    public static IReadOnlySet<string> WritesNothing { get; } =
        new HashSet<string> { "POST /review/{id}/confirm", "POST /api/v1/verifications" };

    public const string VerifyPage = "/verify.html";
    public const string CameraPage = "/scan";

    /// <summary>What is wrong with a route before anybody asks it for anything.</summary>
    public static IEnumerable<string> Faults(ServedRoute route)
    {
        if (route.IsOpen && !Opened.ContainsKey(route.Path))
            yield return $"{route.Name} is open to everybody and RouteTable does not say to whom it answers";
        if (!route.IsOpen && Opened.ContainsKey(route.Path))
            yield return $"{route.Name} stands among the open routes and asks for a sign-in";
        if (route.Writes && !route.WantsToken && !route.IsForPrograms)
            yield return $"{route.Name} takes a form without its token";
    }

    public static string Text(IEnumerable<ServedRoute> routes)
    {
        var text = new StringBuilder(
            """
            # Routes

            Every address the server answers, from the server itself. Written by `RouteInventoryTests` with
            `PROOFDESK_WRITE_ROUTES=1`; every other run compares, so a route that is not written down here fails the tests, and so
            does one that changed. The requests of the same tests hold every line to what it says.

            Not in the table: files under `/css`, `/js`, `/lib` and `/mark.svg` (everybody, `public, max-age=86400`, policy of a page).
            Under `/api` nothing but a key counts (docs/api.md): a role opens nothing there, and a key nothing elsewhere.
            HEAD is answered like GET, without a body and without effect; every other method is 405. "Page" is the policy with a
            nonce made for each answer; everything else in the headers is the same everywhere (docs/security.md).

            | method | route | who | writes | form token | content policy | kept by the browser |
            |---|---|---|---|---|---|---|

            """
        );
        foreach (var route in routes)
            text.Append("| ")
                .AppendJoin(
                    " | ",
                    route.Method,
                    $"`{route.Path}`",
                    Who(route),
                    route.Writes && !WritesNothing.Contains(route.Name) ? "yes" : "no",
                    route.Writes ? (route.WantsToken ? "yes" : "no, no cookie works") : "-",
                    route.Path == VerifyPage ? "its own digests"
                        : route.Path == CameraPage ? "page, camera"
                        : "page",
                    route.Method == "GET" ? Kept.GetValueOrDefault(route.Path, "no-store") : "no-store"
                )
                .Append(" |\n");
        return text.ToString();
    }

    // The right, and the roles that have it.
    private static string Roles(string right) =>
        Enum.TryParse<Right>(right, out var known)
            ? $"{right}: {string.Join(", ", Enum.GetValues<StaffRole>().Where(role => role.Has(known)).Select(role => role.Word()))}"
            : right;

    // The right, and the scopes of keys that have it.
    private static string Scopes(string right) =>
        $"a key with {right}: {string.Join(", ", Enum.GetValues<KeyScope>().Where(scope => scope.Has(Enum.Parse<Right>(right))).Select(scope => scope.Word()))}";

    private static string Who(ServedRoute route) =>
        route is { IsForPrograms: true, IsOpen: false } ? string.Join("; ", route.Policies.Select(Scopes))
        : route.IsOpen ? Opened.GetValueOrDefault(route.Path, "everybody, NOT WRITTEN DOWN")
        : route.Policies.Any() ? string.Join("; ", route.Policies.Select(Roles))
        : "nobody";
}
