using System.Collections.Immutable;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class EventLogTests
{
    private static readonly ImmutableSortedDictionary<string, string> Why = ImmutableSortedDictionary<
        string,
        string
    >.Empty.Add("why", "the client asked");

    [SkippableTheory, OnBothEngines]
    public async Task An_event_becomes_a_leaf_that_its_proof_finds(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.FrozenVersionAsync();

        var (row, leaf) = await AppendAsync(shop, new Happening(EventKind.FilmsExported, "Kim", Why));

        var happened = EventJson.Parse(row.EventBytes);
        Assert.Equal(("Kim", row.At, leaf.Index), (happened.By, happened.At, row.LeafIndex));
        var proof = TlogProof.Parse(leaf.TlogProof);
        var hash = Approvals.Log.LogLeaf.Hash(LeafType.Production, Sha256Digest.Of(row.EventBytes));
        Assert.Equal(leaf.Index + 1, proof.Verify(hash, [VerifierKey.Parse(shop.Log.VerifierKey)]).Size);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Events_epochs_and_keys_stay_as_they_were_written(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await AppendAsync(shop, new Happening(EventKind.Finished, "Kim", Why));
        await shop.Office.WriteAsync(async db =>
        {
            db.LogEpochs.Add(new LogEpoch { Number = 1, Origin = "one" });
            db.LogKeys.Add(new LogKey { VerifierKey = "k" });
            await db.SaveChangesAsync();
        });

        foreach (
            var (change, says) in new[]
            {
                ("UPDATE shop_event SET \"Actor\" = 'x'", "shop_event is append-only"),
                ("DELETE FROM shop_event", "shop_event is append-only"),
                ("UPDATE log_epoch SET \"Origin\" = 'x'", "log_epoch is append-only"),
                (
                    "INSERT INTO log_epoch SELECT 3, 'three', \"FromSize\", \"OpenedAt\", \"LostNote\" FROM log_epoch",
                    "log_epoch skips or repeats a number"
                ),
                ("UPDATE log_key SET \"FromSize\" = 9", "log_key changes by being revoked once"),
                ("DELETE FROM log_key", "log_key is kept"),
            }
        )
        {
            Assert.EndsWith(says, await GuardTests.RefusedAsync(shop, change), StringComparison.Ordinal);
        }
        Assert.Null(await GuardTests.RefusedAsync(shop, "UPDATE log_key SET \"RevokedFromSize\" = 4"));
        Assert.EndsWith(
            "log_key changes by being revoked once",
            await GuardTests.RefusedAsync(shop, "UPDATE log_key SET \"RevokedFromSize\" = 5"),
            StringComparison.Ordinal
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task Personal_data_of_a_decision_is_emptied_only_after_the_event_that_says_so(Engine engine)
    {
        const string Erase =
            "UPDATE decision SET \"TypedName\" = '', \"Recipient\" = '', \"Comment\" = '', \"StatementBytes\" = ";
        var empty = engine == Engine.Sqlite ? "x''" : "''::bytea";
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));
        await using var db = shop.Office.Open();
        var decision = await db.Decisions.SingleAsync();

        Assert.EndsWith(
            "decision is append-only",
            await GuardTests.RefusedAsync(shop, Erase + empty),
            StringComparison.Ordinal
        );
        await AppendAsync(
            shop,
            new Happening(EventKind.PersonalDataErased, "owner", Why, decision.OrderId, SubjectId: decision.Id)
        );

        Assert.EndsWith(
            "decision is append-only",
            await GuardTests.RefusedAsync(shop, Erase + empty + ", \"Kind\" = 'Changes'"),
            StringComparison.Ordinal
        );
        Assert.EndsWith(
            "decision is append-only",
            await GuardTests.RefusedAsync(shop, "UPDATE decision SET \"TypedName\" = 'x'"),
            StringComparison.Ordinal
        );
        Assert.Null(await GuardTests.RefusedAsync(shop, Erase + empty));
    }

    private static async Task<(LoggedEvent Row, SealedLeaf Leaf)> AppendAsync(TestShop shop, Happening happening)
    {
        var written = await shop.Office.WriteAsync(db =>
            shop.Events.AppendAsync(db, happening, CancellationToken.None)
        );
        await shop.Events.PublishAsync(written.Leaf);
        return written;
    }
}
