using System.Collections.Immutable;
using System.Text;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Events;

public sealed class EventTests
{
    private static readonly ShopEvent Exported = new(
        EventKind.FilmsExported,
        Sha256Digest.Of("manifest"u8),
        "Kim",
        ImmutableSortedDictionary<string, string>.Empty.Add("films", "4").Add("why", "burn on Tuesday"),
        Samples.At,
        [.. Enumerable.Repeat((byte)7, 32)]
    );

    [Fact]
    public void An_event_reads_back_as_it_was_written()
    {
        var bytes = EventJson.Write(Exported);

        var again = EventJson.Parse(bytes);

        Assert.Equal(
            "{\"at\":\"2026-11-24T22:08:34.120Z\",\"by\":\"Kim\",\"event\":\"films-exported\",\"facts\":{\"films\":\"4\",\"why\":\"burn on Tuesday\"},"
                + $"\"manifest\":\"{Sha256Digest.Of("manifest"u8)}\",\"profile\":\"proofdesk-event/1\",\"salt\":\"{string.Concat(Enumerable.Repeat("07", 32))}\"}}",
            Encoding.UTF8.GetString(bytes)
        );
        Assert.Equal(bytes, EventJson.Write(again));
        Assert.Equal(Exported.Facts, again.Facts);
    }

    [Fact]
    public void What_concerns_the_log_is_of_the_family_admin_and_the_rest_is_production()
    {
        var admin = Enum.GetValues<EventKind>().Where(kind => (Exported with { Kind = kind }).Family == LeafType.Admin);

        Assert.Equal(
            [
                EventKind.KeyAdded,
                EventKind.KeyRevoked,
                EventKind.EpochOpened,
                EventKind.PersonalDataErased,
                EventKind.ColleagueInvited,
                EventKind.InvitationRevoked,
                EventKind.ColleagueJoined,
                EventKind.RoleChanged,
                EventKind.ColleagueRemoved,
                EventKind.PasswordSet,
                EventKind.SecondFactorSet,
                EventKind.PasskeySet,
                EventKind.ApiKeyMade,
                EventKind.ApiKeyEnded,
            ],
            admin
        );
    }

    [Fact]
    public void Every_kind_has_a_word_of_its_own()
    {
        var words = Enum.GetValues<EventKind>().Select(EventJson.Word).ToArray();

        Assert.Equal(words.Length, words.Distinct(StringComparer.Ordinal).Count());
    }

    [Theory]
    [InlineData("\"films-exported\"", "\"films\"", "event is 'films', must be one of films-exported, ")]
    [InlineData("\"films\":\"4\"", "\"films\":4", "facts.films must be a text")]
    [InlineData("\"films\":\"4\"", "\"Films\":\"4\"", "facts.Films is no name of a fact: lower-case letters, ")]
    [InlineData("\"by\":\"Kim\"", "\"by\":\"\"", "by has 0 characters, must be 1 to 200")]
    [InlineData(
        "\"profile\":\"proofdesk-event/1\"",
        "\"profile\":\"x\"",
        "profile is 'x', must be 'proofdesk-event/1'"
    )]
    public void A_wrong_field_is_named(string from, string to, string message)
    {
        var json = Encoding.UTF8.GetString(EventJson.Write(Exported));
        Assert.Contains(from, json, StringComparison.Ordinal);

        var refused = Assert.Throws<RecordFormatException>(() =>
            EventJson.Parse(Encoding.UTF8.GetBytes(json.Replace(from, to, StringComparison.Ordinal)))
        );

        Assert.StartsWith(message, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void More_facts_than_the_limit_are_refused_when_written()
    {
        var many = Exported with
        {
            Facts = Enumerable.Range(0, EventJson.MaxFacts + 1).ToImmutableSortedDictionary(i => $"f{i}", _ => "x"),
        };

        Assert.Equal(
            "facts has 41 entries, must be 0 to 40",
            Assert.Throws<RecordFormatException>(() => EventJson.Write(many)).Message
        );
    }
}
