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

    public static Happened Of(LoggedEvent row)
    {
        var happened = EventJson.Parse(row.EventBytes);
        return new(
            row.Id,
            row.At,
            row.Actor,
            Words(row.Kind),
            [
                .. happened
                    .Facts.Where(fact => !NotSaid.Contains(fact.Key))
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
            EventKind.PasswordSet => "password changed",
            EventKind.SecondFactorSet => "second step changed",
            EventKind.PasskeySet => "passkeys changed",
            _ => EventJson.Word(kind).Replace('-', ' '),
        };

    private static string Fact(string name, string value) =>
        name == "signs" ? Approvals.Decisions.RobotSigns.Say(value.Split(' ')) : value;
}
