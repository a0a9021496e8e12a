namespace ProofDesk.Web.Tests.Inventory;

/// <summary>What an address can name: of one order, or made up.</summary>
public sealed record Things
{
    public Guid Order { get; init; } = Guid.NewGuid();
    public Guid Version { get; init; } = Guid.NewGuid();
    public Guid Invitation { get; init; } = Guid.NewGuid();
    public Guid Decision { get; init; } = Guid.NewGuid();
    public Guid Dispute { get; init; } = Guid.NewGuid();
    public Guid Mail { get; init; } = Guid.NewGuid();
    public Guid Event { get; init; } = Guid.NewGuid();

    /// <summary>A compare sheet, a finished cell of it, a link to it.</summary>
    public Guid Sheet { get; init; } = Guid.NewGuid();
    public Guid Cell { get; init; } = Guid.NewGuid();
    public Guid SheetLink { get; init; } = Guid.NewGuid();
    public string SheetToken { get; init; } = "no-such-link";

    /// <summary>An account, an invitation, a session, a passkey of the shop's people.</summary>
    public Guid Person { get; init; } = Guid.NewGuid();
    public string Picture { get; init; } = new('0', 64);
    public string Token { get; init; } = "no-such-link";

    /// <summary>Ink, press, device and frame share it.</summary>
    public string Key { get; init; } = "no-such-thing";

    /// <summary>Nothing that was ever there.</summary>
    public static Things MadeUp => new();

    /// <summary>A value for a parameter of a route. A parameter nobody knows fails: say here what it names.</summary>
    public string Value(string path, string parameter) =>
        parameter switch
        {
            "id" => (
                path.Split('/').First(part => part.Length > 0 && part is not ("api" or "v1")) switch
                {
                    "orders" => Order,
                    "versions" => Version,
                    "review" => Invitation,
                    "receipt" or "records" or "packets" => Decision,
                    "dispute" => Dispute,
                    "outbox" => Mail,
                    "people" or "account" or "keys" => Person,
                    "compared" => SheetLink,
                    _ => throw new ArgumentException($"Things does not know what {path} names"),
                }
            ).ToString(),
            "orderId" => Order.ToString(),
            "versionId" or "other" => Version.ToString(),
            "invitationId" => Invitation.ToString(),
            "eventId" => Event.ToString(),
            "sha256" => Picture,
            "sheetId" => Sheet.ToString(),
            "cellId" => Cell.ToString(),
            "linkId" => SheetLink.ToString(),
            "picture" => "print",
            "token" => path.StartsWith("/c/", StringComparison.Ordinal) ? SheetToken : Token,
            "key" => path.StartsWith("/garments", StringComparison.Ordinal) && Key != MadeUp.Key ? "tee" : Key,
            "name" => path.StartsWith("/garments", StringComparison.Ordinal) ? "black" : "print.png",
            "width" => "64",
            "level" or "x" or "y" => "0",
            "status" => "404",
            "answer" => "drop",
            "code" => "no-such-code",
            _ => throw new ArgumentException($"Things has no value for {parameter} of {path}"),
        };

    /// <summary>What an address needs after it.</summary>
    public static string Query(string path) =>
        path switch
        {
            "/versions/{id}/art.png" => "?print=left-chest&ground=tee%2Fwhite",
            "/versions/{id}/loupe.png" => "?print=left-chest&ground=tee%2Fwhite&x=15&y=15&film=1",
            "/review/{id}/loupe.png" => "?print=left-chest&ground=tee%2Fwhite&x=15&y=15",
            "/review/{id}/art.png" => "?print=left-chest&ground=tee%2Fwhite",
            "/versions/{id}/light-table/film.png" => "?screen=1",
            "/versions/{id}/against/{other}/difference.png" => "?print=left-chest&ground=tee%2Fwhite",
            "/api/v1/versions/{id}/costs" => "?pieces=24",
            "/presses/new/films.zip" or "/presses/new/readings.json" => "?mesh=61-64&ground=tee%2Fblack",
            _ => "",
        };
}
