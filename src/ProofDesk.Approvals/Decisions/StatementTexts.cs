using System.Globalization;
using System.Text;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Decisions;

/// <summary>
/// The sentences shown above the button, one file per language. Their digest is bound twice: in the manifest and in the
/// statement. A shop may add lines (right to reproduce the art, over and under count, placement tolerance).
/// </summary>
public static class StatementTexts
{
    private const string ShopLines = "[shop lines]\n";

    /// <summary>Languages with sentences of our own.</summary>
    public static IReadOnlyList<string> Locales { get; } = ["en", "de"];

    public static string Write(
        string locale,
        string order,
        int version,
        int plates,
        HandOver handOver,
        params ReadOnlySpan<string> shopLines
    )
    {
        var lines = shopLines.ToArray().Select(line => $"- {line.ReplaceLineEndings(" ").Trim()}\n");
        var text =
            locale == "de" ? German(order, version, plates, handOver) : English(order, version, plates, handOver);
        return text.Replace(ShopLines, string.Concat(lines), StringComparison.Ordinal)
            .Normalize(NormalizationForm.FormC);
    }

    public static Sha256Digest Digest(string text) => Sha256Digest.Of(Encoding.UTF8.GetBytes(text));

    private static string English(string order, int version, int plates, HandOver handOver) =>
        string.Create(
                CultureInfo.InvariantCulture,
                $"""
                I have looked at order {order}, version {version}.
                - The words are spelled as they should be.
                - Size and place of every print are right.
                - Garments, colours, sizes and counts are right.
                - The printed colours may fall anywhere in the range shown. I know that a screen is not a contract colour proof.
                [shop lines]
                My approval releases this picture and the {plates} printing plates and the ink list bound to it for production ({ManifestJson.Word(
                    handOver
                )}).

                """
            )
            .ReplaceLineEndings("\n");

    private static string German(string order, int version, int plates, HandOver handOver) =>
        string.Create(
                CultureInfo.InvariantCulture,
                $"""
            Ich habe Auftrag {order}, Fassung {version}, angesehen.
            - Die Wörter sind richtig geschrieben.
            - Größe und Platz jedes Drucks stimmen.
            - Kleidungsstücke, Farben, Größen und Stückzahlen stimmen.
            - Die gedruckten Farben dürfen überall im gezeigten Bereich liegen. Ich weiß, dass ein Bildschirm kein verbindlicher Farbproof ist.
            [shop lines]
            Meine Freigabe gibt dieses Bild und die daran gebundenen {plates} Druckplatten und die Farbliste zur Fertigung frei ({(
                handOver == HandOver.Dots ? "Rasterpunkte gebunden" : "Tonwerte gebunden, Rasterpunkte simuliert"
            )}).

            """
            )
            .ReplaceLineEndings("\n");
}
