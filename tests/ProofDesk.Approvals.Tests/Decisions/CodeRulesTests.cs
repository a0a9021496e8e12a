using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Approvals.Tests.Decisions;

public sealed class CodeRulesTests
{
    [Theory]
    [InlineData(null, null, null, EvidenceLevel.Link)]
    [InlineData(null, 100L, null, EvidenceLevel.Link)]
    [InlineData(null, null, 100L, EvidenceLevel.Link)]
    [InlineData(null, 99L, 100L, EvidenceLevel.Link)]
    [InlineData(null, 100L, 100L, EvidenceLevel.Code)]
    [InlineData(EvidenceLevel.Link, 100L, 100L, EvidenceLevel.Link)]
    [InlineData(EvidenceLevel.Code, null, null, EvidenceLevel.Code)]
    public void The_order_says_what_is_asked_and_otherwise_its_value_does(
        EvidenceLevel? ofOrder,
        long? value,
        long? from,
        EvidenceLevel asked
    ) => Assert.Equal(asked, CodeRules.Asked(ofOrder, value, from));

    [Fact]
    public void Without_the_code_an_approval_that_needs_one_is_refused() =>
        Assert.Equal(
            ["code-missing: Type the code from the mail we sent you."],
            Judge(Samples.Approval(), EvidenceLevel.Code, null)
        );

    [Fact]
    public void A_wrong_code_says_how_many_tries_are_left()
    {
        Assert.Equal(
            ["code-wrong: This is not the code we mailed. 3 tries are left."],
            Judge(Samples.Approval(), EvidenceLevel.Code, new CodeTry.Wrong(3))
        );
        Assert.Equal(
            ["code-wrong: This is not the code we mailed. One try is left."],
            Judge(Samples.Approval(), EvidenceLevel.Code, new CodeTry.Wrong(1))
        );
    }

    [Fact]
    public void An_approval_that_carries_the_code_is_accepted()
    {
        var said = Samples.Approval();
        var evidence = said.Evidence with { Level = EvidenceLevel.Code, CodeAt = said.At };

        Assert.Empty(Judge(said with { Evidence = evidence }, EvidenceLevel.Code, new CodeTry.Right()));
    }

    [Fact]
    public void Blanks_and_hyphens_of_a_pasted_code_do_not_matter() =>
        Assert.Equal("12345678", CodeRules.Plain(" 1234-5678 "));

    [Fact]
    public void Every_sign_of_a_machine_has_a_sentence() =>
        Assert.All(RobotSigns.All, sign => Assert.Contains(' ', RobotSigns.Say([sign])));

    private static IEnumerable<string> Judge(DecisionStatement said, EvidenceLevel asked, CodeTry? code) =>
        DecisionRules
            .Judge(said, Samples.Context() with { Asked = asked, Code = code })
            .Select(r => $"{r.Code}: {r.Text}");
}
