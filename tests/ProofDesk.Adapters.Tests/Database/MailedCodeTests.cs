using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class MailedCodeTests
{
    [SkippableTheory, OnBothEngines]
    public async Task Forty_guesses_at_once_are_five_tries(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var (proof, code) = await AskedAsync(shop);
        const int Guesses = 40;

        var results = await Task.WhenAll(
            Enumerable
                .Range(0, Guesses)
                .Select(at => Task.Run(() => shop.Deciding.DecideAsync(With(proof, Wrong(code, at), $"g{at}"))))
        );
        var late = await shop.Deciding.DecideAsync(With(proof, code, "late"));

        Assert.All(results, result => Assert.IsType<DecisionResult.Incomplete>(result));
        Assert.Equal(
            4,
            results
                .Cast<DecisionResult.Incomplete>()
                .Count(result => result.Refusals.Any(refusal => refusal.Code == "code-wrong"))
        );
        Assert.Equal("code-spent", Assert.Single(Assert.IsType<DecisionResult.Incomplete>(late).Refusals).Code);
        await using var db = shop.Office.Open();
        Assert.Equal(5, (await db.MailedCodes.SingleAsync()).Tries);
        Assert.Equal(0, await db.Decisions.CountAsync());
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_code_ends_after_ten_minutes(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var (proof, code) = await AskedAsync(shop);
        shop.Time.Advance(TimeSpan.FromMinutes(10));

        var result = await shop.Deciding.DecideAsync(With(proof, code));

        Assert.Equal(
            "This code has ended: it is good for 10 minutes, 5 tries and one answer. Ask for a new one.",
            Assert.Single(Assert.IsType<DecisionResult.Incomplete>(result).Refusals).Text
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_newer_code_ends_the_older(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var (proof, first) = await AskedAsync(shop);
        shop.Time.Advance(TimeSpan.FromSeconds(1));
        await shop.Codes.AskAsync(proof.InvitationId);

        var older = await shop.Deciding.DecideAsync(With(proof, first, "a"));
        var newer = await shop.Deciding.DecideAsync(With(proof, await NewestCodeAsync(shop), "b"));

        Assert.IsType<DecisionResult.Incomplete>(older);
        Assert.IsType<DecisionResult.Recorded>(newer);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_code_gives_one_answer(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var (proof, code) = await AskedAsync(shop);
        var first = Assert.IsType<DecisionResult.Recorded>(await shop.Deciding.DecideAsync(With(proof, code, "a")));
        await shop.Deciding.DecideAsync(
            TestShop.Approval(proof, "w") with
            {
                Kind = DecisionKind.Withdraw,
                Confirmed = Confirmations.None,
                Withdraws = first.DecisionId,
            }
        );

        var again = await shop.Deciding.DecideAsync(With(proof, code, "b"));

        Assert.Equal("code-spent", Assert.Single(Assert.IsType<DecisionResult.Incomplete>(again).Refusals).Code);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Three_codes_an_hour_leave_and_their_digits_are_nowhere_in_the_table(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var (proof, code) = await AskedAsync(shop);

        await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => shop.Codes.AskAsync(proof.InvitationId)));
        var within = await shop.CountAsync<MailedCode>();
        shop.Time.Advance(TimeSpan.FromMinutes(61));
        await shop.Codes.AskAsync(proof.InvitationId);

        Assert.Equal(3, within);
        Assert.Equal(4, await shop.CountAsync<MailedCode>());
        await using var db = shop.Office.Open();
        Assert.All(await db.MailedCodes.ToListAsync(), row => Assert.DoesNotContain(code, row.CodeHash));
        Assert.Equal(4, await db.OutboxMails.CountAsync(mail => mail.Kind == "code"));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_link_called_back_gets_no_code(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        await shop.Sending.RevokeAsync(proof.InvitationId, "anna");

        await shop.Codes.AskAsync(proof.InvitationId);

        Assert.Equal(0, await shop.CountAsync<MailedCode>());
    }

    private static async Task<(SentProof Proof, string Code)> AskedAsync(TestShop shop)
    {
        var proof = await shop.SentVersionAsync();
        await shop.Office.WriteAsync(async db =>
        {
            (await db.Orders.SingleAsync()).EvidenceAsked = EvidenceLevel.Code;
            await db.SaveChangesAsync();
        });
        await shop.Codes.AskAsync(proof.InvitationId);
        return (proof, await NewestCodeAsync(shop));
    }

    private static async Task<string> NewestCodeAsync(TestShop shop)
    {
        await using var db = shop.Office.Open();
        var mail = await db
            .OutboxMails.Where(row => row.Kind == "code")
            .OrderByDescending(row => row.CreatedAt)
            .Select(row => row.Id)
            .FirstAsync();
        return Regex
            .Match((await shop.Outbox.TextOfAsync(mail))!, "^([0-9]{8})$", RegexOptions.Multiline)
            .Groups[1]
            .Value;
    }

    private static DecisionRequest With(SentProof proof, string code, string nonce = "n1") =>
        TestShop.Approval(proof, nonce) with
        {
            Code = code,
        };

    private static string Wrong(string code, int at) =>
        ((int.Parse(code, System.Globalization.CultureInfo.InvariantCulture) + at + 1) % 100_000_000).ToString(
            "D8",
            System.Globalization.CultureInfo.InvariantCulture
        );
}
