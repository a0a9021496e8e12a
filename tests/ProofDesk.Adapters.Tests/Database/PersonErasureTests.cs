using System.Text;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class PersonErasureTests
{
    [SkippableTheory, OnBothEngines]
    public async Task A_persons_data_goes_and_the_log_stays_whole(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var decision = await LogKeyTests.DecidedAsync(shop, "n1");
        List<byte[]> leaves;
        await using (var db = shop.Office.Open())
        {
            leaves = await db.LogLeaves.OrderBy(row => row.Index).Select(row => row.LeafHash).ToListAsync();
        }

        var erased = await shop.Get<PersonErasure>().EraseAsync(" KIT@harbour.example", "owner", "asked by mail");

        Assert.Equal(1L, Assert.Single(erased.Decisions));
        Assert.Equal("Harbour Rowing Club", Assert.Single(erased.Clients));
        await using var after = shop.Office.Open();
        var row = await after.Decisions.SingleAsync();
        Assert.True(row.IsErased);
        Assert.Equal(("", "", ""), (row.TypedName, row.Recipient, row.Comment));
        Assert.Equal(
            leaves,
            await after
                .LogLeaves.OrderBy(leaf => leaf.Index)
                .Take(leaves.Count)
                .Select(leaf => leaf.LeafHash)
                .ToListAsync()
        );
        var said = EventJson.Parse((await after.LoggedEvents.SingleAsync()).EventBytes);
        Assert.Equal(
            (EventKind.PersonalDataErased, "1", "asked by mail", "sha256:" + row.StatementSha256),
            (said.Kind, said.Facts["entry"], said.Facts["why"], said.Facts["statement"])
        );
        var proof = TlogProof.Parse((await shop.Log.ProveAsync(1)).TlogProof);
        proof.Verify(leaves[1], [VerifierKey.Parse(shop.Log.VerifierKey)]);
        Assert.All(
            await after.Invitations.ToListAsync(),
            link => Assert.Equal(("", "", true), (link.Recipient, link.RecipientName, link.RevokedAt is not null))
        );
        var mails = await after.OutboxMails.Where(mail => mail.Recipient == "").ToListAsync();
        Assert.Equal(erased.Mails, mails.Count);
        Assert.All(mails, mail => Assert.Null(mail.SealedMime));
        Assert.DoesNotContain(await after.OutboxMails.ToListAsync(), mail => mail.Recipient == "kit@harbour.example");
        var refused = await Assert.ThrowsAsync<ErasedException>(() => shop.Records.PacketAsync(decision));
        Assert.Equal(
            "the personal data of entry 1 of the log was erased: the entry stays, but its statement and with it the packet are gone",
            refused.Message
        );
        Assert.Equal("(erased)", (await shop.Records.FindAsync(decision))!.Statement.Name);
        await shop.RestartAsync();
        Assert.Equal(
            3,
            Checkpoint.Open((await shop.Log.CheckpointAsync())!, [VerifierKey.Parse(shop.Log.VerifierKey)]).Size
        );
    }

    [Fact]
    public async Task Nobody_of_that_address_is_nothing_to_erase()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        await LogKeyTests.DecidedAsync(shop, "n1");

        var erased = await shop.Get<PersonErasure>().EraseAsync("somebody@else.example", "owner", "asked");

        Assert.True(erased.Nothing);
        Assert.Equal(0, await shop.CountAsync<LoggedEvent>());
    }
}
