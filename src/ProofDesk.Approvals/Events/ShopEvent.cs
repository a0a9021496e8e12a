using System.Collections.Immutable;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Events;

/// <summary>What the log holds beside frozen versions and decisions.</summary>
public enum EventKind
{
    /// <summary>Full films left the house for the press.</summary>
    FilmsExported,

    /// <summary>Films were released although no approval stands: a name and a reason are among the facts.</summary>
    ReleasedUnapproved,

    /// <summary>A sample was printed before the run, for the client to see.</summary>
    SampleMade,

    /// <summary>The first good piece was looked at beside the proof.</summary>
    PressChecked,

    /// <summary>Something was printed with or on another thing than the record names.</summary>
    Substituted,

    /// <summary>Pieces were counted when they were finished.</summary>
    Finished,

    /// <summary>Somebody who was mailed a receipt says it was not they who decided.</summary>
    Disputed,

    /// <summary>Staff looked into a dispute and ended it.</summary>
    DisputeSettled,

    /// <summary>A decision came in a way that looks like a machine; the facts name the signs.</summary>
    Flagged,

    /// <summary>Staff looked at what held production, other than a dispute, and ended the hold.</summary>
    HoldLifted,

    /// <summary>A signing key begins to count.</summary>
    KeyAdded,

    /// <summary>A signing key counts no more from a tree size on.</summary>
    KeyRevoked,

    /// <summary>The log goes on under another name after an old backup was put back.</summary>
    EpochOpened,

    /// <summary>Personal data of one decision was removed; its leaf stays.</summary>
    PersonalDataErased,

    /// <summary>Somebody was mailed a link that makes an account of the shop.</summary>
    ColleagueInvited,

    /// <summary>Such a link was called back before it was used.</summary>
    InvitationRevoked,

    /// <summary>Somebody took up an invitation and has an account now.</summary>
    ColleagueJoined,

    /// <summary>Somebody in the shop may do other things from now on.</summary>
    RoleChanged,

    /// <summary>An account of the shop ended; what it did stays under its name.</summary>
    ColleagueRemoved,

    /// <summary>An account of the house got another password.</summary>
    PasswordSet,

    /// <summary>The second factor of an account began, ended, or got other recovery codes.</summary>
    SecondFactorSet,

    /// <summary>A passkey was added to an account or taken from it.</summary>
    PasskeySet,

    /// <summary>A key was made with which a program may ask the server.</summary>
    ApiKeyMade,

    /// <summary>Such a key ended before its time.</summary>
    ApiKeyEnded,
}

/// <summary>Something that happened to a version, or to the log itself, as it is signed into the log.</summary>
/// <param name="Manifest">The version it happened to, or null for what concerns the log or the house.</param>
/// <param name="By">Who did it, as the house knows them.</param>
/// <param name="Facts">What there is to say, by name; names are lower-case words joined by hyphens.</param>
/// <param name="At">Server's time, to the millisecond.</param>
/// <param name="Salt">32 random bytes: the leaf says nothing to anyone who lacks the event.</param>
public sealed record ShopEvent(
    EventKind Kind,
    Sha256Digest? Manifest,
    string By,
    ImmutableSortedDictionary<string, string> Facts,
    DateTimeOffset At,
    ImmutableArray<byte> Salt
)
{
    public const string Profile = "proofdesk-event/1";

    /// <summary>The family of leaves it belongs to.</summary>
    public LeafType Family =>
        Kind
            is EventKind.KeyAdded
                or EventKind.KeyRevoked
                or EventKind.EpochOpened
                or EventKind.PersonalDataErased
                or EventKind.ColleagueInvited
                or EventKind.InvitationRevoked
                or EventKind.ColleagueJoined
                or EventKind.RoleChanged
                or EventKind.ColleagueRemoved
                or EventKind.PasswordSet
                or EventKind.SecondFactorSet
                or EventKind.PasskeySet
                or EventKind.ApiKeyMade
                or EventKind.ApiKeyEnded
            ? LeafType.Admin
            : LeafType.Production;
}
