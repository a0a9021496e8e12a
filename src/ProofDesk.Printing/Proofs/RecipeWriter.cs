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
internal sealed class RecipeWriter
{
    internal const double Billion = 1e9;

    private readonly StringBuilder json = new();

    /// <summary>Where the writer is: "Spot.Inks.Inks[0].AbsorptionPerUm[3]".</summary>
    private readonly StringBuilder at = new();

    private readonly SortedDictionary<string, string> digits = new(StringComparer.Ordinal);

    private RecipeWriter() { }

    /// <param name="engine">The version that is named; another one only to compare with a recipe of that version.</param>
    public static Recipe Of(ProofRequest request, string engine = ProofMaker.EngineVersion)
    {
        var writer = new RecipeWriter();
        writer.Members(
            Properties(request)
                .Where(p => p.Name is not nameof(ProofRequest.Art) and not nameof(ProofRequest.Grounds))
                .Select(p => (p.Name, p.GetValue(request)))
                // Recipes from before films could be changed by hand stay what they are.
                .Where(p => p.Item2 is not HandWork { IsNone: true })
                .Append(("Art", ArtPart.Of(request.Art)))
                .Append(("Engine", engine))
                .Append(("Grounds", request.Grounds.Select(g => new GroundPart(g)).ToArray()))
        );
        var text = writer.json.ToString();
        return new(text, Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text))))
        {
            Digits = DigitsText(writer.digits),
        };
    }

    /// <summary>A part of a recipe, and what the ninth place cut off of it.</summary>
    public static (string Json, IReadOnlyDictionary<string, string> Digits) Part(object part)
    {
        var writer = new RecipeWriter();
        writer.Value(part);
        return (writer.json.ToString(), writer.digits);
    }

    /// <summary>A part of a recipe with every digit: two parts of the same text are the same to the engine.</summary>
    public static string Exactly(object part)
    {
        var (json, digits) = Part(part);
        return json + "\n" + DigitsText(digits);
    }

    /// <summary>Fractions are written to nine places; here stand those that have more, as the shortest text that reads back the same.</summary>
    private static string DigitsText(IEnumerable<KeyValuePair<string, string>> digits)
    {
        var writer = new RecipeWriter();
        writer.Members(digits.Select(d => (d.Key, (object?)d.Value)));
        return writer.json.ToString();
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

    private void Value(object? value)
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
                Text(text);
                break;
            case Enum name:
                Text(name.ToString());
                break;
            case double fraction:
                Fraction(fraction);
                break;
            case int or long or byte:
                json.Append(
                    Convert.ToInt64(value, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture)
                );
                break;
            case ulong big:
                Text(big.ToString(CultureInfo.InvariantCulture));
                break;
            // Its name and caution are words for people; what it does is the engine's version.
            case PrintMethod method:
                Text(method.Id);
                break;
            case ProofRequest under:
                Text(Of(under).Sha256);
                break;
            // As its own file has it: what changes nothing is not in it.
            case HandWork work:
                Text(HandWorkJson.Write(work));
                break;
            case Spectrum spectrum:
                List(spectrum.Values.ToArray());
                break;
            case IDictionary map:
                Members(map.Keys.Cast<object>().Select(k => (k.ToString()!, map[k])));
                break;
            case IEnumerable list:
                List(list);
                break;
            default:
                Members(Properties(value).Select(p => (p.Name, p.GetValue(value))));
                break;
        }
    }

    private void Fraction(double fraction)
    {
        var billionths = Billionths(fraction);
        json.Append(CultureInfo.InvariantCulture, $"{billionths}");
        if (billionths / Billion != fraction)
            digits[at.ToString()] = fraction.ToString("R", CultureInfo.InvariantCulture);
    }

    internal static long Billionths(double fraction) =>
        (long)Math.Round(fraction * Billion, MidpointRounding.AwayFromZero);

    /// <summary>What was given, not what follows from it; later settings only where somebody uses them.</summary>
    private static IEnumerable<PropertyInfo> Properties(object value) =>
        Properties(value.GetType())
            .Where(p =>
                !p.IsDefined(typeof(LaterSettingAttribute)) || !LaterSettingAttribute.IsUsual(p.GetValue(value))
            );

    /// <summary>What can be given to a type; the others follow from these.</summary>
    internal static IEnumerable<PropertyInfo> Properties(Type type) =>
        type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .Where(p => p.CanWrite && p.GetIndexParameters().Length == 0);

    private void Members(IEnumerable<(string Name, object? Value)> members)
    {
        json.Append('{');
        var first = true;
        foreach (var (name, value) in members.OrderBy(m => m.Name, StringComparer.Ordinal))
        {
            if (!first)
                json.Append(',');
            first = false;
            Text(name);
            json.Append(':');
            var here = at.Length;
            at.Append(here == 0 ? "" : ".").Append(name);
            Value(value);
            at.Length = here;
        }
        json.Append('}');
    }

    private void List(IEnumerable list)
    {
        json.Append('[');
        var place = 0;
        foreach (var item in list)
        {
            if (place > 0)
                json.Append(',');
            var here = at.Length;
            at.Append(CultureInfo.InvariantCulture, $"[{place++}]");
            Value(item);
            at.Length = here;
        }
        json.Append(']');
    }

    private void Text(string text) =>
        json.Append('"').Append(JavaScriptEncoder.UnsafeRelaxedJsonEscaping.Encode(text)).Append('"');
}
