using System.Collections.Immutable;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Decisions;

public sealed class DecisionRulesTests
{
    [Fact]
    public void A_complete_approval_of_the_version_shown_is_accepted() =>
        Assert.Empty(Judge(Samples.Approval(), Samples.Context()));

    [Theory]
    [InlineData("")]
    [InlineData("   ")]
    public void An_empty_name_cannot_approve(string name) =>
        Refused(
            "name-empty",
            "Type your name, so that the record says who decided.",
            Samples.Approval() with
            {
                Name = name,
            }
        );

    [Fact]
    public void A_name_longer_than_the_record_cannot_approve() =>
        Refused(
            "name-too-long",
            "The name has 201 characters, at most 200 fit the record.",
            Samples.Approval() with
            {
                Name = new('a', 201),
            }
        );

    [Fact]
    public void All_boxes_left_open_are_named_at_once()
    {
        var refusals = Judge(Samples.Approval() with { Confirmed = Confirmations.None }, Samples.Context());

        Assert.Equal(
            [
                "words-unconfirmed: Tick the box for the words and their spelling, or ask for changes.",
                "size-and-place-unconfirmed: Tick the box for size and place, or ask for changes.",
                "garments-unconfirmed: Tick the box for garments and counts, or ask for changes.",
                "colours-unconfirmed: Tick the box for the colours within their range, or ask for changes.",
            ],
            refusals.Select(r => $"{r.Code}: {r.Text}")
        );
    }

    [Fact]
    public void Asking_for_changes_needs_no_box_but_a_change()
    {
        var said = Samples.Approval() with { Kind = DecisionKind.Changes, Confirmed = Confirmations.None };

        Refused("no-change-named", "Say at least one thing that shall change.", said);
        Assert.Empty(Judge(said with { Changes = [new("word ROWING", "should be ROWERS")] }, Samples.Context()));
    }

    [Fact]
    public void A_change_without_words_is_refused() =>
        Refused(
            "change-without-words",
            "Say in 1 to 4000 characters what shall change about 'ink Red' (now 0).",
            Samples.Approval() with
            {
                Kind = DecisionKind.Changes,
                Changes = [new("ink Red", "")],
            }
        );

    [Fact]
    public void Approving_with_a_list_of_changes_is_refused() =>
        Refused(
            "changes-beside",
            "A list of changes goes with asking for changes only. Approve as is, or ask for changes.",
            Samples.Approval() with
            {
                Changes = [new("ink Red", "darker")],
            }
        );

    [Fact]
    public void A_stale_page_cannot_approve()
    {
        var other = Sha256Digest.Of("other"u8);

        Refused(
            "manifest-stale",
            $"The page you decided on shows proof {other.ShortCode}, this link now leads to proof {Samples.Context().Manifest.ShortCode}. Load the page again and look once more.",
            Samples.Approval() with
            {
                Manifest = other,
            }
        );
    }

    [Fact]
    public void A_superseded_version_cannot_be_approved() =>
        Refused(
            "version-superseded",
            "Version 4 has taken the place of version 3. Open the newest mail and decide on version 4.",
            Samples.Approval(),
            Samples.Context() with
            {
                SupersededBy = 4,
            }
        );

    [Fact]
    public void A_version_that_was_not_sent_cannot_be_approved() =>
        Refused(
            "version-not-sent",
            "Version 3 was not sent yet, so nobody can decide on it.",
            Samples.Approval(),
            Samples.Context() with
            {
                Sent = false,
            }
        );

    [Fact]
    public void An_expired_link_cannot_approve() =>
        Refused(
            "link-expired",
            "This link ended on 24 November 2026 22:08 UTC. Ask the shop for a new one.",
            Samples.Approval(),
            Samples.Context() with
            {
                LinkExpires = Samples.At,
            }
        );

    [Fact]
    public void A_link_approves_until_the_millisecond_before_it_expires() =>
        Assert.Empty(Judge(Samples.Approval(), Samples.Context() with { LinkExpires = Samples.At.AddMilliseconds(1) }));

    [Fact]
    public void A_revoked_link_cannot_approve() =>
        Refused(
            "link-revoked",
            "The shop called this link back. Ask the shop for a new one.",
            Samples.Approval(),
            Samples.Context() with
            {
                LinkRevoked = true,
            }
        );

    [Fact]
    public void A_second_decision_learns_who_was_first() =>
        Refused(
            "already-decided",
            "Bo Lind has already asked for changes to version 3 on 24 November 2026 22:00 UTC.",
            Samples.Approval(),
            Samples.Context() with
            {
                Effective = new(
                    Sha256Digest.Of("first"u8),
                    DecisionKind.Changes,
                    "Bo Lind",
                    new(2026, 11, 24, 22, 0, 0, TimeSpan.Zero)
                ),
            }
        );

    [Fact]
    public void Sentences_other_than_those_bound_cannot_be_signed() =>
        Refused(
            "statement-text-differs",
            "The sentences shown in language 'en' are not those of version 3. Load the page again.",
            Samples.Approval() with
            {
                StatementText = StatementTexts.Digest(Samples.Text("de")),
            }
        );

    [Fact]
    public void A_code_claimed_must_have_been_typed() =>
        Refused(
            "code-missing",
            "Type the code from the mail we sent you.",
            Samples.Approval() with
            {
                Evidence = new(EvidenceLevel.Code, "inv-1"),
            }
        );

    [Fact]
    public void A_decision_given_elsewhere_says_who_wrote_it_down() =>
        Refused(
            "elsewhere-incomplete",
            "A decision given elsewhere says which of the staff wrote it down, how and when it was given; no other decision does.",
            Samples.Approval() with
            {
                Evidence = new(EvidenceLevel.GivenElsewhere, "none"),
            }
        );

    [Fact]
    public void A_decision_given_elsewhere_needs_no_living_link()
    {
        var said = Samples.Approval() with
        {
            Evidence = new(EvidenceLevel.GivenElsewhere, "none", Elsewhere: new("Kim", "telephone", Samples.At, null)),
        };

        Assert.Empty(Judge(said, Samples.Context() with { LinkExpires = Samples.At, LinkRevoked = true }));
    }

    [Fact]
    public void A_decision_is_taken_back_within_the_hold_only()
    {
        var first = Sha256Digest.Of("first"u8);
        var said = Samples.Approval() with
        {
            Kind = DecisionKind.Withdraw,
            Confirmed = Confirmations.None,
            Withdraws = first,
        };
        var context = Samples.Context() with
        {
            Effective = new(first, DecisionKind.Approve, "Ada Strand", Samples.At.AddHours(-1)),
            HoldEnds = Samples.At.AddMinutes(1),
        };

        Assert.Empty(Judge(said, context));
        Refused(
            "hold-ended",
            "Production may have begun, so the decision can no longer be taken back here. Telephone the shop.",
            said,
            context with
            {
                HoldEnds = Samples.At,
            }
        );
        Refused(
            "withdraws-another",
            "The decision you want to take back is not the one that stands now. Load the page again.",
            said with
            {
                Withdraws = Sha256Digest.Of("other"u8),
            },
            context
        );
        Refused("nothing-to-withdraw", "There is no decision on version 3 to take back.", said, Samples.Context());
    }

    [Fact]
    public void All_that_can_be_mended_is_said_at_once() =>
        Assert.Equal(
            ["link-expired", "version-superseded", "name-empty", "words-unconfirmed"],
            Judge(
                    Samples.Approval() with
                    {
                        Name = "",
                        Confirmed = Confirmations.All with { Words = false },
                    },
                    Samples.Context() with
                    {
                        LinkExpires = Samples.At,
                        SupersededBy = 4,
                    }
                )
                .Select(r => r.Code)
        );

    private static ImmutableArray<Refusal> Judge(DecisionStatement said, DecisionContext context) =>
        DecisionRules.Judge(said, context);

    private static void Refused(string code, string text, DecisionStatement said, DecisionContext? context = null) =>
        Assert.Equal([new Refusal(code, text)], Judge(said, context ?? Samples.Context()).ToArray());
}
