using System.Text;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Decisions;

public sealed class StatementTests
{
    [Fact]
    public void A_statement_reads_back_as_it_was_written()
    {
        var said = Samples.Approval() with
        {
            Kind = DecisionKind.Changes,
            Changes = [new("print front", "20 mm lower")],
            Comment = "thank you",
            Evidence = new(
                EvidenceLevel.GivenElsewhere,
                "none",
                Elsewhere: new("Kim", "telephone", Samples.At, Sha256Digest.Of("note"u8))
            ),
        };
        var bytes = StatementJson.Write(said);

        var again = StatementJson.Parse(bytes);

        Assert.Equal(bytes, StatementJson.Write(again));
        Assert.Equal(said.Evidence, again.Evidence);
        Assert.Equal(said.Changes.ToArray(), again.Changes.ToArray());
        Assert.Equal(Samples.At, again.At);
    }

    [Fact]
    public void Times_are_written_in_utc_to_the_millisecond()
    {
        var elsewhere = Samples.Approval() with
        {
            At = new DateTimeOffset(2026, 11, 25, 0, 8, 34, 120, TimeSpan.FromHours(2)),
        };

        Assert.Contains(
            "\"at\":\"2026-11-24T22:08:34.120Z\"",
            Encoding.UTF8.GetString(StatementJson.Write(elsewhere)),
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData(
        "2026-11-24T22:08:34.120Z",
        "2026-11-24T22:08:34Z",
        "at is '2026-11-24T22:08:34Z', must look like 2026-11-24T22:08:34.120Z"
    )]
    [InlineData(
        "2026-11-24T22:08:34.120Z",
        "2026-02-30T22:08:34.120Z",
        "at is '2026-02-30T22:08:34.120Z', must look like 2026-11-24T22:08:34.120Z"
    )]
    [InlineData(
        "\"decision\":\"approve\"",
        "\"decision\":\"yes\"",
        "decision is 'yes', must be one of approve, changes, withdraw"
    )]
    [InlineData("\"level\":\"E0\"", "\"level\":\"E9\"", "evidence.level is 'E9', must be one of S0, E0, E1")]
    [InlineData("\"words\":true", "\"words\":1", "confirmed.words must be true or false")]
    [InlineData(
        "\"locale\":\"en\"",
        "\"locale\":\"../en\"",
        "locale '../en' is not a language such as 'en' or 'de-AT'"
    )]
    public void A_wrong_field_is_named(string from, string to, string message)
    {
        var json = Encoding.UTF8.GetString(StatementJson.Write(Samples.Approval()));
        Assert.Contains(from, json, StringComparison.Ordinal);

        var wrong = Encoding.UTF8.GetBytes(json.Replace(from, to, StringComparison.Ordinal));

        Assert.Equal(message, Assert.Throws<RecordFormatException>(() => StatementJson.Parse(wrong)).Message);
    }

    [Fact]
    public void A_salt_of_another_length_is_refused() =>
        Assert.Equal(
            "salt must be 64 lower-case hexadecimal digits",
            Assert
                .Throws<RecordFormatException>(() => StatementJson.Write(Samples.Approval() with { Salt = [1, 2, 3] }))
                .Message
        );

    [Fact]
    public void The_long_name_of_a_browser_is_cut_and_no_reason_to_lose_a_decision()
    {
        var said = Samples.Approval() with
        {
            Evidence = new(EvidenceLevel.Link, "inv-1", Agent: new string('x', 499) + "\ud83d\ude00"),
        };

        Assert.Equal(new string('x', 499), StatementJson.Parse(StatementJson.Write(said)).Evidence.Agent);
    }

    [Fact]
    public void The_sentences_say_what_is_confirmed_and_what_is_released() =>
        Assert.Equal(
            """
            I have looked at order HRC-104, version 3.
            - The words are spelled as they should be.
            - Size and place of every print are right.
            - Garments, colours, sizes and counts are right.
            - The printed colours may fall anywhere in the range shown. I know that a screen is not a contract colour proof.
            - Over and under count: up to 3 %.
            My approval releases this picture and the 2 printing plates and the ink list bound to it for production (dots bound).

            """.ReplaceLineEndings("\n"),
            Samples.Text()
        );
}
