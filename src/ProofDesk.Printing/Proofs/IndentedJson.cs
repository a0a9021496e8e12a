using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace ProofDesk.Printing.Proofs;

/// <summary>JSON that people read and digests are taken of: indented, lines end in LF whatever the machine, letters as they are.</summary>
internal static class IndentedJson
{
    private static readonly JsonWriterOptions Options = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string Write(Action<Utf8JsonWriter> write)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes, Options))
            write(json);
        return Encoding.UTF8.GetString(bytes.ToArray());
    }
}
