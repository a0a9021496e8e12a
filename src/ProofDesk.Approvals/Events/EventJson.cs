using System.Collections.Immutable;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Events;

/// <summary>The event as canonical JSON, both ways.</summary>
public static class EventJson
{
    public const int MaxFacts = 40;
    public const int MaxFact = 2000;
    private const int MaxName = 60;
    private const int SaltBytes = 32;

    private static readonly WordList<EventKind> Kinds = new(
        (EventKind.FilmsExported, "films-exported"),
        (EventKind.ReleasedUnapproved, "released-unapproved"),
        (EventKind.SampleMade, "sample-made"),
        (EventKind.PressChecked, "press-checked"),
        (EventKind.Substituted, "substituted"),
        (EventKind.Finished, "finished"),
        (EventKind.Disputed, "disputed"),
        (EventKind.DisputeSettled, "dispute-settled"),
        (EventKind.Flagged, "flagged"),
        (EventKind.HoldLifted, "hold-lifted"),
        (EventKind.KeyAdded, "key-added"),
        (EventKind.KeyRevoked, "key-revoked"),
        (EventKind.EpochOpened, "epoch-opened"),
        (EventKind.PersonalDataErased, "personal-data-erased"),
        (EventKind.ColleagueInvited, "colleague-invited"),
        (EventKind.InvitationRevoked, "invitation-revoked"),
        (EventKind.ColleagueJoined, "colleague-joined"),
        (EventKind.RoleChanged, "role-changed"),
        (EventKind.ColleagueRemoved, "colleague-removed"),
        (EventKind.PasswordSet, "password-set"),
        (EventKind.SecondFactorSet, "second-factor-set"),
        (EventKind.PasskeySet, "passkey-set"),
        (EventKind.ApiKeyMade, "api-key-made"),
        (EventKind.ApiKeyEnded, "api-key-ended")
    );

    public static string Word(EventKind kind) => Kinds.Write(kind);

    /// <summary>The bytes that are hashed and stored. Whatever <see cref="Parse"/> would refuse is refused here.</summary>
    public static byte[] Write(ShopEvent happened)
    {
        var bytes = CanonicalJson.Write(
            JsonMembers.Of(
                ("profile", ShopEvent.Profile),
                ("event", Kinds.Write(happened.Kind)),
                ("manifest", happened.Manifest is { } manifest ? (JsonItem)manifest.ToString() : null),
                ("by", happened.By),
                ("facts", JsonMembers.Of([.. happened.Facts.Select(fact => (fact.Key, (JsonItem?)fact.Value))])),
                ("at", UtcText.Write(happened.At)),
                ("salt", Convert.ToHexStringLower(happened.Salt.AsSpan()))
            )
        );
        Parse(bytes);
        return bytes;
    }

    /// <summary>Reads bytes that must be canonical; the message of a refusal names the field and the limit.</summary>
    public static ShopEvent Parse(ReadOnlySpan<byte> utf8) =>
        JsonFields.Read(CanonicalJson.ParseCanonical(utf8), "", FromJson);

    private static ShopEvent FromJson(JsonFields f)
    {
        f.Exactly("profile", ShopEvent.Profile);
        return new(
            f.Word("event", Kinds),
            f.OptionalDigest("manifest"),
            f.Text("by"),
            f.Object("facts", Facts),
            f.Time("at"),
            [.. Convert.FromHexString(f.Hex("salt", SaltBytes * 2))]
        );
    }

    private static ImmutableSortedDictionary<string, string> Facts(JsonFields f)
    {
        var facts = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach (var name in f.Keys)
        {
            if (name.Length > MaxName || !name.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-'))
            {
                throw f.Wrong(
                    name,
                    $"is no name of a fact: lower-case letters, digits and hyphens, at most {MaxName} of them"
                );
            }
            facts.Add(name, f.Text(name, MaxFact));
        }
        return facts.Count <= MaxFacts
            ? facts.ToImmutable()
            : throw new RecordFormatException($"facts has {facts.Count} entries, must be 0 to {MaxFacts}");
    }
}
