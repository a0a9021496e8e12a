using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Decisions;

/// <summary>The decision as canonical JSON, both ways.</summary>
public static class StatementJson
{
    private const int SaltBytes = 32;
    private const int MaxAgent = 500;

    private static readonly WordList<DecisionKind> Kinds = new(
        (DecisionKind.Approve, "approve"),
        (DecisionKind.Changes, "changes"),
        (DecisionKind.Withdraw, "withdraw")
    );

    private static readonly WordList<EvidenceLevel> Levels = new(
        (EvidenceLevel.GivenElsewhere, "S0"),
        (EvidenceLevel.Link, "E0"),
        (EvidenceLevel.Code, "E1")
    );

    public static string Word(DecisionKind kind) => Kinds.Write(kind);

    public static string Word(EvidenceLevel level) => Levels.Write(level);

    /// <summary>The bytes that are hashed, stored and packed.</summary>
    public static byte[] Write(DecisionStatement statement)
    {
        var bytes = CanonicalJson.Write(ToJson(statement));
        Parse(bytes);
        return bytes;
    }

    /// <summary>Reads bytes that must be canonical; the message of a refusal names the field and the limit.</summary>
    public static DecisionStatement Parse(ReadOnlySpan<byte> utf8) =>
        JsonFields.Read(CanonicalJson.ParseCanonical(utf8), "", FromJson);

    private static JsonMembers ToJson(DecisionStatement s) =>
        JsonMembers.Of(
            ("profile", DecisionStatement.Profile),
            ("decision", Kinds.Write(s.Kind)),
            ("manifest", s.Manifest.ToString()),
            ("statementText", s.StatementText.ToString()),
            ("locale", s.Locale),
            (
                "confirmed",
                JsonMembers.Of(
                    ("words", s.Confirmed.Words),
                    ("sizeAndPlace", s.Confirmed.SizeAndPlace),
                    ("garmentsAndCounts", s.Confirmed.GarmentsAndCounts),
                    ("coloursWithinRange", s.Confirmed.ColoursWithinRange)
                )
            ),
            ("name", s.Name),
            ("invited", s.Invited),
            ("evidence", ToJson(s.Evidence)),
            ("changes", JsonList.Of(s.Changes, c => JsonMembers.Of(("thing", c.Thing), ("words", c.Words)))),
            ("withdraws", s.Withdraws is { } withdraws ? (JsonItem)withdraws.ToString() : null),
            ("comment", string.IsNullOrEmpty(s.Comment) ? null : (JsonItem)s.Comment),
            ("at", UtcText.Write(s.At)),
            ("nonce", s.Nonce),
            ("salt", Convert.ToHexStringLower(s.Salt.AsSpan()))
        );

    private static JsonMembers ToJson(Evidence e) =>
        JsonMembers.Of(
            ("level", Levels.Write(e.Level)),
            ("linkId", e.LinkId),
            ("codeAt", e.CodeAt is { } code ? (JsonItem)UtcText.Write(code) : null),
            ("agent", string.IsNullOrEmpty(e.Agent) ? null : (JsonItem)Start(e.Agent, MaxAgent)),
            ("network", string.IsNullOrEmpty(e.Network) ? null : (JsonItem)e.Network),
            (
                "elsewhere",
                e.Elsewhere is null
                    ? null
                    : JsonMembers.Of(
                        ("staff", e.Elsewhere.Staff),
                        ("how", e.Elsewhere.How),
                        ("at", UtcText.Write(e.Elsewhere.At)),
                        ("file", e.Elsewhere.File is { } file ? (JsonItem)file.ToString() : null)
                    )
            )
        );

    private static DecisionStatement FromJson(JsonFields f)
    {
        f.Exactly("profile", DecisionStatement.Profile);
        return new(
            f.Word("decision", Kinds),
            f.Digest("manifest"),
            f.Digest("statementText"),
            Locale(f),
            f.Object(
                "confirmed",
                c => new Confirmations(
                    c.Truth("words"),
                    c.Truth("sizeAndPlace"),
                    c.Truth("garmentsAndCounts"),
                    c.Truth("coloursWithinRange")
                )
            ),
            f.Text("name", DecisionRules.MaxName),
            f.Text("invited", 320),
            f.Object("evidence", ReadEvidence),
            f.List(
                "changes",
                0,
                DecisionRules.MaxChanges,
                c => new ChangeRequest(c.Text("thing"), c.Text("words", DecisionRules.MaxWords))
            ),
            f.OptionalDigest("withdraws"),
            f.OptionalText("comment", DecisionRules.MaxWords),
            f.Time("at"),
            f.Text("nonce"),
            [.. Convert.FromHexString(f.Hex("salt", SaltBytes * 2))]
        );
    }

    private static Evidence ReadEvidence(JsonFields f) =>
        new(
            f.Word("level", Levels),
            f.Text("linkId"),
            f.OptionalTime("codeAt"),
            f.OptionalText("agent", MaxAgent),
            f.OptionalText("network", 100),
            f.OptionalObject(
                "elsewhere",
                e => new GivenElsewhere(e.Text("staff"), e.Text("how"), e.Time("at"), e.OptionalDigest("file"))
            )
        );

    /// <summary>A browser may call itself anything; a long name is cut, never a reason to lose a decision.</summary>
    private static string Start(string text, int max)
    {
        var end = Math.Min(text.Length, max);
        return text[..(end > 0 && end < text.Length && char.IsHighSurrogate(text[end - 1]) ? end - 1 : end)];
    }

    private static string Locale(JsonFields f)
    {
        var locale = f.Text("locale");
        return ManifestJson.IsLocale(locale)
            ? locale
            : throw f.Wrong("locale", $"'{locale}' is not a language such as 'en' or 'de-AT'");
    }
}
