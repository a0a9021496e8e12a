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
    public static IReadOnlyList<string> Locales { get; } = ["en", "de", "es"];

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
        var text = locale switch
        {
            "de" => German(order, version, plates, handOver),
            "es" => Spanish(order, version, plates, handOver),
            _ => English(order, version, plates, handOver),
        };
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

    private static string Spanish(string order, int version, int plates, HandOver handOver) =>
        string.Create(
                CultureInfo.InvariantCulture,
                $"""
            He visto el pedido {order}, versión {version}.
            - Las palabras están bien escritas.
            - El tamaño y la posición de cada estampado son correctos.
            - Las prendas, los colores, las tallas y las cantidades son correctos.
            - Los colores impresos pueden quedar en cualquier punto del margen mostrado. Sé que una pantalla no es una prueba de color contractual.
            [shop lines]
            Mi aprobación libera para la producción esta imagen y las {plates} planchas de impresión y la lista de tintas vinculadas a ella ({(
                handOver == HandOver.Dots ? "puntos vinculados" : "tonos vinculados, puntos simulados"
            )}).

            """
            )
            .ReplaceLineEndings("\n");
}
