using System.Collections.Immutable;

namespace ProofDesk.Approvals.Manifests;

/// <summary>The manifest as canonical JSON, both ways. The reader holds every limit; the writer reads its own bytes back.</summary>
public static class ManifestJson
{
    private const int Micrometres = 5_000_000;

    private static readonly WordList<HandOver> HandOvers = new(
        (HandOver.Dots, "dots bound"),
        (HandOver.Tones, "tones bound, dots simulated")
    );

    private static readonly WordList<FileRole> Roles = new(
        (FileRole.Picture, "picture"),
        (FileRole.GarmentPicture, "garment-picture"),
        (FileRole.Plate, "plate"),
        (FileRole.PlatesPdf, "plates-pdf"),
        (FileRole.Production, "production"),
        (FileRole.InkList, "ink-list"),
        (FileRole.Recipe, "recipe"),
        (FileRole.Findings, "findings"),
        (FileRole.Art, "art")
    );

    /// <summary>How the manifest says the hand-over: "dots bound" or "tones bound, dots simulated".</summary>
    public static string Word(HandOver handOver) => HandOvers.Write(handOver);

    public static string Word(FileRole role) => Roles.Write(role);

    /// <summary>The bytes that are hashed, stored and packed. Files are put in the order of their paths.</summary>
    public static byte[] Write(Manifest manifest)
    {
        var bytes = CanonicalJson.Write(ToJson(manifest));
        Parse(bytes);
        return bytes;
    }

    /// <summary>Reads bytes that must be canonical; the message of a refusal names the field and the limit.</summary>
    public static Manifest Parse(ReadOnlySpan<byte> utf8) =>
        Checked(JsonFields.Read(CanonicalJson.ParseCanonical(utf8), "", FromJson));

    private static JsonMembers ToJson(Manifest m) =>
        JsonMembers.Of(
            ("profile", Manifest.Profile),
            ("shop", m.Shop),
            ("order", m.Order),
            ("version", m.Version),
            ("versionId", m.VersionId),
            ("handOver", HandOvers.Write(m.HandOver)),
            ("viewingLight", m.ViewingLight),
            ("prints", JsonList.Of(m.Prints, ToJson)),
            ("lines", JsonList.Of(m.Lines, ToJson)),
            ("grounds", JsonList.Of(m.Grounds, ToJson)),
            ("plates", JsonList.Of(m.Plates, ToJson)),
            ("files", JsonList.Of(m.Files.OrderBy(f => f.Path, StringComparer.Ordinal), ToJson)),
            (
                "statementTexts",
                JsonMembers.Of([.. m.StatementTexts.Select(t => (t.Key, (JsonItem?)t.Value.ToString()))])
            ),
            (
                "render",
                JsonMembers.Of(
                    ("engine", m.Render.Engine),
                    ("recipe", m.Render.Recipe.ToString()),
                    ("seed", m.Render.Seed)
                )
            )
        );

    private static JsonMembers ToJson(ManifestPrint p) =>
        JsonMembers.Of(
            ("id", p.Id),
            ("place", p.Place),
            ("method", p.Method),
            ("sizeGroup", p.SizeGroup),
            ("widthUm", p.WidthUm),
            ("heightUm", p.HeightUm),
            ("fromSeamUm", p.FromSeamUm),
            ("fromCentreUm", p.FromCentreUm),
            ("words", JsonList.Of(p.Words, w => w))
        );

    private static JsonMembers ToJson(ManifestLine l) =>
        JsonMembers.Of(
            ("garment", l.Garment),
            ("colour", l.Colour),
            ("counts", JsonList.Of(l.Counts, c => JsonMembers.Of(("size", c.Size), ("pieces", c.Pieces))))
        );

    private static JsonMembers ToJson(ManifestGround g) =>
        JsonMembers.Of(("id", g.Id), ("garment", g.Garment), ("colour", g.Colour), ("lab", ToJson(g.Lab)));

    private static JsonMembers ToJson(ManifestPlate p) =>
        JsonMembers.Of(
            ("print", p.Print),
            ("screen", p.Screen),
            ("purpose", p.Purpose),
            ("mesh", p.Mesh),
            ("lpi", p.Lpi),
            ("angleMillidegrees", p.AngleMillidegrees),
            ("coveragePpm", p.CoveragePpm),
            ("path", p.Path),
            (
                "onGrounds",
                JsonList.Of(
                    p.OnGrounds,
                    g => JsonMembers.Of(("ground", g.Ground), ("ink", g.Ink), ("lab", ToJson(g.Lab)))
                )
            )
        );

    private static JsonMembers ToJson(ManifestFile f) =>
        JsonMembers.Of(
            ("path", f.Path),
            ("role", Roles.Write(f.Role)),
            ("mediaType", f.MediaType),
            ("bytes", f.Bytes),
            ("sha256", f.Sha256.Hex),
            ("sha512", f.Sha512Hex)
        );

    private static JsonList ToJson(LabHundredths lab) => new([lab.L, lab.A, lab.B]);

    private static Manifest FromJson(JsonFields f)
    {
        f.Exactly("profile", Manifest.Profile);
        return new(
            f.Text("shop"),
            f.Text("order"),
            f.Int("version", 1, 1_000_000),
            f.Text("versionId"),
            f.Word("handOver", HandOvers),
            f.Text("viewingLight"),
            f.List("prints", 1, 100, ReadPrint),
            f.List("lines", 1, 1000, ReadLine),
            f.List("grounds", 1, 1000, ReadGround),
            f.List("plates", 0, 1000, ReadPlate),
            f.List("files", 1, 5000, ReadFile),
            f.Object("statementTexts", ReadTexts),
            f.Object(
                "render",
                r => new RenderRecipe(r.Text("engine"), r.Digest("recipe"), r.Whole("seed", 0, JsonWhole.Limit))
            )
        );
    }

    private static ManifestPrint ReadPrint(JsonFields f) =>
        new(
            f.Text("id"),
            f.Text("place"),
            f.Text("method"),
            f.Text("sizeGroup"),
            f.Int("widthUm", 1, Micrometres),
            f.Int("heightUm", 1, Micrometres),
            f.Int("fromSeamUm", -Micrometres, Micrometres),
            f.Int("fromCentreUm", -Micrometres, Micrometres),
            f.Texts("words", 2000, 500)
        );

    private static ManifestLine ReadLine(JsonFields f) =>
        new(
            f.Text("garment"),
            f.Text("colour"),
            f.List("counts", 1, 100, c => new SizeCount(c.Text("size"), c.Int("pieces", 0, 10_000_000)))
        );

    private static ManifestGround ReadGround(JsonFields f) =>
        new(f.Text("id"), f.Text("garment"), f.Text("colour"), f.Lab("lab"));

    private static ManifestPlate ReadPlate(JsonFields f) =>
        new(
            f.Text("print"),
            f.Int("screen", 1, 1000),
            f.Text("purpose"),
            f.Text("mesh"),
            f.Int("lpi", 0, 1000),
            f.Int("angleMillidegrees", 0, 359_999),
            f.Int("coveragePpm", 0, 1_000_000),
            f.Text("path"),
            f.List("onGrounds", 1, 1000, g => new PlateOnGround(g.Text("ground"), g.Text("ink"), g.Lab("lab")))
        );

    private static ManifestFile ReadFile(JsonFields f)
    {
        var path = f.Text("path");
        if (!FilePath.IsSafe(path))
        {
            throw f.Wrong(
                "path",
                $"'{path}' may hold ASCII letters, digits, '.', '-', '_' and '/', at most {FilePath.MaxLength} in all"
            );
        }

        return new(
            path,
            f.Word("role", Roles),
            f.Text("mediaType"),
            f.Whole("bytes", 0, uint.MaxValue - 1L),
            Sha256Digest.TryParseHex(f.Hex("sha256", 64), out var sha256) ? sha256 : default,
            f.Hex("sha512", 128)
        );
    }

    private static ImmutableSortedDictionary<string, Sha256Digest> ReadTexts(JsonFields f)
    {
        var texts = ImmutableSortedDictionary.CreateBuilder<string, Sha256Digest>(StringComparer.Ordinal);
        foreach (var locale in f.Keys)
        {
            if (!IsLocale(locale))
            {
                throw f.Wrong(locale, "is not a language such as 'en' or 'de-AT'");
            }

            texts.Add(locale, f.Digest(locale));
        }

        return texts.Count > 0
            ? texts.ToImmutable()
            : throw new RecordFormatException("statementTexts names no language");
    }

    internal static bool IsLocale(string text) =>
        text.Length is >= 2 and <= 20
        && text.All(c => char.IsAsciiLetterOrDigit(c) || c == '-')
        && char.IsAsciiLetter(text[0]);

    /// <summary>What no single field can say: names used once, names referred to exist.</summary>
    private static Manifest Checked(Manifest m)
    {
        Once("prints", m.Prints.Select(p => p.Id));
        Once("grounds", m.Grounds.Select(g => g.Id));
        Once("files", m.Files.Select(f => f.Path.ToLowerInvariant()));
        if (
            !m
                .Files.Select(f => f.Path)
                .SequenceEqual(m.Files.Select(f => f.Path).Order(StringComparer.Ordinal), StringComparer.Ordinal)
        )
        {
            throw new RecordFormatException("files are not in the order of their paths");
        }

        foreach (var (plate, i) in m.Plates.Select((p, i) => (p, i)))
        {
            Known($"plates[{i}].print", plate.Print, m.Prints.Select(p => p.Id));
            Known($"plates[{i}].path", plate.Path, m.Files.Where(f => f.Role == FileRole.Plate).Select(f => f.Path));
            foreach (var ground in plate.OnGrounds)
            {
                Known($"plates[{i}].onGrounds", ground.Ground, m.Grounds.Select(g => g.Id));
            }
        }

        return m;
    }

    private static void Once(string list, IEnumerable<string> names)
    {
        var twice = names.GroupBy(n => n, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1);
        if (twice is not null)
        {
            throw new RecordFormatException($"{list} name '{twice.Key}' {twice.Count()} times");
        }
    }

    private static void Known(string field, string name, IEnumerable<string> names)
    {
        var list = names.ToList();
        if (!list.Contains(name, StringComparer.Ordinal))
        {
            throw new RecordFormatException($"{field} is '{name}', must be one of {string.Join(", ", list)}");
        }
    }
}
