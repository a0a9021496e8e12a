using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Web.Presses;

/// <summary>A reading sheet as it was given, so that the press can be fitted from it again.</summary>
public sealed record SheetText(string FileName, string Text);

/// <summary>A scan of a printed form; its bytes are in the file store.</summary>
public sealed record KeptScan(string FileName, string Sha256);

/// <summary>A press as the desk keeps it: what was read, and what was found from it.</summary>
/// <param name="Meshes">The meshes whose forms were read: "61-64".</param>
public sealed record PressDefinition(
    string Name,
    ImmutableArray<string> Meshes,
    ImmutableArray<SheetText> Sheets,
    ImmutableArray<KeptScan> Scans,
    FittedPress Fitted
)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    private sealed record Stored(
        string Name,
        ImmutableArray<string> Meshes,
        ImmutableArray<SheetText> Sheets,
        ImmutableArray<KeptScan> Scans,
        JsonElement Press
    );

    public string ToJson()
    {
        using var press = JsonDocument.Parse(PressJson.Write(Fitted));
        return JsonSerializer.Serialize(new Stored(Name, Meshes, Sheets, Scans, press.RootElement), Json);
    }

    public static PressDefinition FromJson(string json)
    {
        var stored =
            JsonSerializer.Deserialize<Stored>(json, Json) ?? throw new InvalidDataException("the press is empty");
        return new(
            stored.Name,
            stored.Meshes,
            stored.Sheets,
            stored.Scans,
            PressJson.Read(stored.Press.GetRawText(), stored.Name)
        );
    }
}
