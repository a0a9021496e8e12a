using PdfSharp.Fonts;

namespace ProofDesk.Adapters.Documents;

/// <summary>
/// The one face of every PDF for people: Inter, regular and semibold, TrueType files beside the assembly. No font of the machine is
/// asked, so a document looks the same everywhere; a character the face does not have is drawn as its empty box.
/// </summary>
public sealed class PdfFonts : IFontResolver
{
    public const string Face = "Inter";

    private const string Regular = "Inter-Regular.ttf";
    private const string SemiBold = "Inter-SemiBold.ttf";

    // PDFsharp takes one resolver a process, and only before the first font is made.
    private static readonly Lazy<PdfFonts> One = new(() =>
    {
        var fonts = new PdfFonts();
        GlobalFontSettings.FontResolver = fonts;
        return fonts;
    });

    private PdfFonts() { }

    public static string ShippedFolder => Path.Combine(AppContext.BaseDirectory, "fonts");

    /// <summary>Call before anything of PDFsharp that draws text; further calls do nothing.</summary>
    public static void Use() => _ = One.Value;

    public FontResolverInfo ResolveTypeface(string familyName, bool bold, bool italic) =>
        new(bold ? SemiBold : Regular);

    public byte[] GetFont(string faceName) => File.ReadAllBytes(Path.Combine(ShippedFolder, faceName));
}
