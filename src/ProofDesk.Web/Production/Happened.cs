using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Production;

/// <summary>An event of the log as people read it.</summary>
/// <param name="Said">One line a fact.</param>
/// <param name="HasPhoto">A photograph was kept with it.</param>
public sealed record Happened(
    Guid Id,
    DateTimeOffset At,
    string By,
    string What,
    IReadOnlyList<string> Said,
    long LeafIndex,
    bool HasPhoto,
    Guid? VersionId,
    EventKind Kind
)
{
    /// <summary>Facts that are for machines: digests and identifiers.</summary>
    private static readonly string[] NotSaid = ["photo", "original", "decision", "statement", "evidence"];

    /// <param name="erased">decisions whose personal data is gone: whoever disputed one of them is not named either</param>
    public static Happened Of(LoggedEvent row, ICollection<Guid> erased)
    {
        var happened = EventJson.Parse(row.EventBytes);
        var isErased = row.Kind == EventKind.Disputed && row.SubjectId is { } about && erased.Contains(about);
        return new(
            row.Id,
            row.At,
            isErased ? KeptStatement.Erased : row.Actor,
            Words(row.Kind),
            [
                .. happened
                    .Facts.Where(fact => !isErased && !NotSaid.Contains(fact.Key))
                    .Select(fact => $"{fact.Key.Replace('-', ' ')}: {Fact(fact.Key, fact.Value)}"),
            ],
            row.LeafIndex,
            happened.Facts.ContainsKey("photo"),
            row.VersionId,
            row.Kind
        );
    }

    public static string Words(EventKind kind) =>
        kind switch
        {
            EventKind.FilmsExported => "films taken",
            EventKind.ReleasedUnapproved => "films released without approval",
            EventKind.SampleMade => "sample printed",
            EventKind.PressChecked => "first good piece checked",
            EventKind.Substituted => "something replaced",
            EventKind.Finished => "pieces finished",
            EventKind.Disputed => "\"this was not me\"",
            EventKind.DisputeSettled => "dispute settled",
            EventKind.Flagged => "answer flagged as a machine's",
            EventKind.HoldLifted => "hold looked into",
            EventKind.PersonalDataErased => "personal data erased",
            EventKind.ColleagueInvited => "colleague invited",
            EventKind.InvitationRevoked => "colleague's invitation called back",
            EventKind.ColleagueJoined => "colleague joined",
            EventKind.RoleChanged => "role changed",
            EventKind.ColleagueRemoved => "colleague removed",
            EventKind.PasswordSet => "password changed",
            EventKind.SecondFactorSet => "second step changed",
            EventKind.PasskeySet => "passkeys changed",
            EventKind.ApiKeyMade => "key for programs made",
            EventKind.ApiKeyEnded => "key for programs ended",
            _ => EventJson.Word(kind).Replace('-', ' '),
        };

    private static string Fact(string name, string value) =>
        name == "signs" ? Approvals.Decisions.RobotSigns.Say(value.Split(' ')) : value;
}
