using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class PassingOnTests
{
    [SkippableTheory, OnBothEngines]
    public async Task A_link_passed_on_is_a_link_of_its_own_that_can_be_called_back_alone(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        var passed = await PassAsync(shop, proof, "coach@harbour.example");
        var id = Assert.IsType<PassResult.Passed>(passed).InvitationId;
        await shop.Sending.RevokeAsync(id, "anna");

        await using var db = shop.Office.Open();
        var row = await db.Invitations.SingleAsync(one => one.Id == id);
        Assert.Equal(
            (proof.InvitationId, "coach@harbour.example", InvitationPurpose.Review),
            (row.PassedOnFromId, row.Recipient, row.Purpose)
        );
        Assert.Null(await shop.Invitations.ReviewAsync(id));
        Assert.NotNull(await shop.Invitations.ReviewAsync(proof.InvitationId));
    }

    [SkippableTheory, OnBothEngines]
    public async Task Five_are_passed_on_and_no_sixth(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        var results = await Task.WhenAll(
            Enumerable.Range(0, 8).Select(at => Task.Run(() => PassAsync(shop, proof, $"p{at}@harbour.example")))
        );

        Assert.Equal(5, results.OfType<PassResult.Passed>().Count());
        Assert.Equal(3, results.OfType<PassResult.TooMany>().Count());
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_address_that_is_none_is_refused(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();

        Assert.IsType<PassResult.Unusable>(await PassAsync(shop, proof, "coach"));
        Assert.IsType<PassResult.Unusable>(await PassAsync(shop, proof, "a@b.example\r\nBcc: c@d.example"));
    }

    [SkippableTheory, OnBothEngines]
    public async Task Who_holds_an_ended_link_can_ask_the_shop_once_a_day(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var proof = await shop.SentVersionAsync();
        await shop.Get<PassingOn>().AskForNewAsync(proof.InvitationId);
        var whileOpen = await WantedAsync(shop);
        shop.Time.Advance(TimeSpan.FromDays(31));

        for (var time = 0; time < 3; time++)
            await shop.Get<PassingOn>().AskForNewAsync(proof.InvitationId);
        var sameDay = await WantedAsync(shop);
        shop.Time.Advance(TimeSpan.FromDays(2));
        await shop.Get<PassingOn>().AskForNewAsync(proof.InvitationId);

        Assert.Empty(whileOpen);
        Assert.Equal(["desk@lindhag.example"], sameDay);
        Assert.Equal(2, (await WantedAsync(shop)).Count);
    }

    private static Task<PassResult> PassAsync(TestShop shop, SentProof proof, string address) =>
        shop.Get<PassingOn>().PassOnAsync(proof.InvitationId, new LinkRecipient(address, "Coach"));

    private static async Task<List<string>> WantedAsync(TestShop shop)
    {
        await using var db = shop.Office.Open();
        return await db.OutboxMails.Where(row => row.Kind == "link-wanted").Select(row => row.Recipient).ToListAsync();
    }
}
