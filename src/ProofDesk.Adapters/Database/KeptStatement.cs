using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>What a decision said, or what is left of it.</summary>
public static class KeptStatement
{
    /// <summary>Stands where the name stood.</summary>
    public const string Erased = "(erased)";

    /// <summary>
    /// The statement; for a person whose data was erased, what the row still says: kind, evidence level, time and digests. Its digest is
    /// no longer that of the log, so nothing but a page for people may use it.
    /// </summary>
    public static DecisionStatement Of(Decision decision) =>
        decision.IsErased
            ? new(
                decision.Kind,
                Digest(decision.ManifestSha256),
                StatementTexts.Digest(decision.StatementText),
                "en",
                decision.Kind == DecisionKind.Approve ? Confirmations.All : Confirmations.None,
                Erased,
                Erased,
                new Evidence(decision.EvidenceLevel, decision.InvitationId?.ToString() ?? Erased),
                [],
                null,
                null,
                decision.At,
                decision.Nonce,
                []
            )
            : StatementJson.Parse(decision.StatementBytes);

    /// <summary>The name that was typed, or that it was erased.</summary>
    public static string NameOf(Decision decision) => decision.IsErased ? Erased : decision.TypedName;

    private static Sha256Digest Digest(string hex) => Sha256Digest.TryParseHex(hex, out var digest) ? digest : default;
}

/// <summary>The personal data of the decision was erased, so its packet cannot be made; the message says it in words.</summary>
public sealed class ErasedException(long entry)
    : InvalidOperationException(
        $"the personal data of entry {entry} of the log was erased: the entry stays, but its statement and with it the packet are gone"
    );
