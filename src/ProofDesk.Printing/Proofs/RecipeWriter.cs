using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations.ByHand;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Writes down everything a proof depends on. Settings are walked property by property, so that one added later cannot
/// be forgotten; fractions become whole billionths, so that no reader rounds them.
/// </summary>
internal static class RecipeWriter
{
    private const double Billion = 1e9;

    public static Recipe Of(ProofRequest request)
    {
        var json = new StringBuilder();
        Members(
            json,
            Properties(request)
                .Where(p => p.Name is not nameof(ProofRequest.Art) and not nameof(ProofRequest.Grounds))
                .Select(p => (p.Name, p.GetValue(request)))
                // Recipes from before films could be changed by hand stay what they are.
                .Where(p => p.Item2 is not HandWork { IsNone: true })
                .Append(("Art", ArtPart.Of(request.Art)))
                .Append(("Engine", ProofMaker.EngineVersion))
                .Append(("Grounds", request.Grounds.Select(g => new GroundPart(g)).ToArray()))
        );
        var text = json.ToString();
        return new(text, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))));
    }

    /// <summary>The file's digest, and the size it was drawn at: an SVG has no pixels of its own.</summary>
    private record ArtPart(string Sha256, int WidthPixels, int HeightPixels)
    {
        public static ArtPart Of(Artwork art) =>
            art.Source.DrawnBy is { } program
                ? new DrawnArtPart(art.Sha256, art.Pixels.Width, art.Pixels.Height, program, art.Source.Page ?? 1)
                : new ArtPart(art.Sha256, art.Pixels.Width, art.Pixels.Height);
    }

    /// <summary>A page that a program outside drew: another page, or another version of it, is another recipe.</summary>
    private sealed record DrawnArtPart(string Sha256, int WidthPixels, int HeightPixels, string DrawnBy, int Page)
        : ArtPart(Sha256, WidthPixels, HeightPixels);

    private sealed record GroundPart(string Garment, string GarmentSha256, GarmentColour Colour)
    {
        public GroundPart(Ground ground)
            : this(ground.Garment.Id, ground.Garment.Sha256, ground.Colour) { }
    }

    private static void Value(StringBuilder json, object? value)
    {
        switch (value)
        {
            case null:
                json.Append("null");
                break;
            case bool truth:
                json.Append(truth ? "true" : "false");
                break;
            case string text:
                Text(json, text);
                break;
            case Enum name:
                Text(json, name.ToString());
                break;
            case double fraction:
                json.Append(
                    CultureInfo.InvariantCulture,
                    $"{(long)Math.Round(fraction * Billion, MidpointRounding.AwayFromZero)}"
                );
                break;
            case int or long or byte:
                json.Append(
                    Convert.ToInt64(value, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture)
                );
                break;
            case ulong big:
                Text(json, big.ToString(CultureInfo.InvariantCulture));
                break;
            // Its name and caution are words for people; what it does is the engine's version.
            case PrintMethod method:
                Text(json, method.Id);
                break;
            case ProofRequest under:
                Text(json, Of(under).Sha256);
                break;
            // As its own file has it: what changes nothing is not in it.
            case HandWork work:
                Text(json, HandWorkJson.Write(work));
                break;
            case Spectrum spectrum:
                List(json, spectrum.Values.ToArray());
                break;
            case IDictionary map:
                Members(json, map.Keys.Cast<object>().Select(k => (k.ToString()!, map[k])));
                break;
            case IEnumerable list:
                List(json, list);
                break;
            default:
                Members(json, Properties(value).Select(p => (p.Name, p.GetValue(value))));
                break;
        }
    }

    /// <summary>What was given, not what follows from it; later settings only where somebody uses them.</summary>
    private static IEnumerable<PropertyInfo> Properties(object value) =>
        value
            .GetType()
            .GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(p => p.CanWrite && p.GetIndexParameters().Length == 0)
            .Where(p =>
                !p.IsDefined(typeof(LaterSettingAttribute)) || !LaterSettingAttribute.IsUsual(p.GetValue(value))
            );

    private static void Members(StringBuilder json, IEnumerable<(string Name, object? Value)> members)
    {
        json.Append('{');
        var first = true;
        foreach (var (name, value) in members.OrderBy(m => m.Name, StringComparer.Ordinal))
        {
            if (!first)
                json.Append(',');
            first = false;
            Text(json, name);
            json.Append(':');
            Value(json, value);
        }
        json.Append('}');
    }

    private static void List(StringBuilder json, IEnumerable list)
    {
        json.Append('[');
        var first = true;
        foreach (var item in list)
        {
            if (!first)
                json.Append(',');
            first = false;
            Value(json, item);
        }
        json.Append(']');
    }

    private static void Text(StringBuilder json, string text) =>
        json.Append('"').Append(JavaScriptEncoder.UnsafeRelaxedJsonEscaping.Encode(text)).Append('"');
}
