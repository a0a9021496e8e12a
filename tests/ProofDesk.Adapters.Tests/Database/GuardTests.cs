using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>Raw SQL, as a stray tool or an insider would write it, against the triggers.</summary>
public sealed class GuardTests
{
    [SkippableTheory, OnBothEngines]
    public async Task What_a_frozen_version_binds_cannot_be_changed(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.FrozenVersionAsync();

        foreach (
            var change in new[]
            {
                "\"ManifestSha256\" = 'x'",
                "\"ManifestBytes\" = \"ManifestBytes\"",
                "\"Number\" = 7",
                "\"RequestJson\" = ''",
                "\"FindingsJson\" = '[1]'",
                "\"StatementTexts\" = '{}'",
                "\"FreezeLeafIndex\" = 3",
                "\"FrozenAt\" = 0",
                "\"State\" = 'Rendering'",
                "\"State\" = 'Draft'",
                "\"State\" = 'Failed'",
            }
        )
        {
            Assert.EndsWith(
                "proof_version is frozen",
                await RefusedAsync(shop, $"UPDATE proof_version SET {change}"),
                StringComparison.Ordinal
            );
        }
        Assert.EndsWith(
            "proof_version is frozen",
            await RefusedAsync(shop, "DELETE FROM proof_version"),
            StringComparison.Ordinal
        );
        Assert.Null(await RefusedAsync(shop, "UPDATE proof_version SET \"State\" = 'Sent', \"RowVersion\" = 9"));
    }

    [SkippableTheory, OnBothEngines]
    public async Task Files_of_a_frozen_version_are_closed(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.FrozenVersionAsync();
        const string Closed = "files of a frozen version are closed";

        Assert.EndsWith(
            Closed,
            await RefusedAsync(shop, "UPDATE version_file SET \"Path\" = \"Path\""),
            StringComparison.Ordinal
        );
        Assert.EndsWith(Closed, await RefusedAsync(shop, "DELETE FROM version_file"), StringComparison.Ordinal);
        var another = await RefusedAsync(
            shop,
            $"INSERT INTO version_file SELECT {NewId(engine)}, \"VersionId\", 'more.png', \"Role\", \"MediaType\", \"Bytes\", \"Sha256\", \"Sha512\" "
                + "FROM version_file LIMIT 1"
        );
        Assert.EndsWith(Closed, another, StringComparison.Ordinal);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Decisions_leaves_checkpoints_and_the_trail_are_append_only(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));

        foreach (
            var (table, column) in new[]
            {
                ("decision", "TypedName"),
                ("log_leaf", "EventSha256"),
                ("log_checkpoint", "Note"),
                ("audit_event", "Actor"),
            }
        )
        {
            var says = $"{table} is append-only";
            Assert.EndsWith(
                says,
                await RefusedAsync(shop, $"UPDATE {table} SET \"{column}\" = 'x'"),
                StringComparison.Ordinal
            );
            Assert.EndsWith(says, await RefusedAsync(shop, $"DELETE FROM {table}"), StringComparison.Ordinal);
            if (engine == Engine.Postgres)
            {
                Assert.EndsWith(says, await RefusedAsync(shop, $"TRUNCATE {table} CASCADE"), StringComparison.Ordinal);
            }
        }
        if (engine == Engine.Sqlite)
        {
            // REPLACE deletes before it inserts: without recursive_triggers it would slip past.
            var replaced = await RefusedAsync(shop, "REPLACE INTO log_checkpoint SELECT * FROM log_checkpoint LIMIT 1");
            Assert.EndsWith("log_checkpoint is append-only", replaced, StringComparison.Ordinal);
        }
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_leaf_that_leaves_a_gap_or_repeats_a_place_is_refused(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.FrozenVersionAsync();

        foreach (var index in new[] { 0, 2, 5, -1 })
        {
            var refused = await RefusedAsync(
                shop,
                $"INSERT INTO log_leaf (\"Index\", \"Kind\", \"LeafHash\", \"EventSha256\", \"Ref\", \"At\") "
                    + $"SELECT {index}, \"Kind\", \"LeafHash\", \"EventSha256\", \"Ref\", \"At\" FROM log_leaf LIMIT 1"
            );
            Assert.EndsWith("log_leaf has a gap", refused, StringComparison.Ordinal);
        }
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_decision_must_name_the_manifest_of_its_version(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));

        var refused = await RefusedAsync(
            shop,
            async db =>
            {
                var copy = await db.Decisions.AsNoTracking().SingleAsync();
                copy.Id = Guid.CreateVersion7();
                copy.Nonce = "another";
                copy.LeafIndex = 0;
                copy.ManifestSha256 = new string('0', 64);
                db.Decisions.Add(copy);
                await db.SaveChangesAsync();
            }
        );

        Assert.EndsWith("decision names another manifest than its version", refused, StringComparison.Ordinal);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Only_a_later_withdrawal_frees_a_slot(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync()));

        Assert.EndsWith(
            "decision_slot is freed by a withdrawal only",
            await RefusedAsync(shop, "DELETE FROM decision_slot"),
            StringComparison.Ordinal
        );
        Assert.EndsWith(
            "decision_slot is not moved",
            await RefusedAsync(shop, "UPDATE decision_slot SET \"DecisionId\" = \"DecisionId\""),
            StringComparison.Ordinal
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task What_the_shop_defined_is_append_only_and_its_versions_have_no_gap(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Get<ShopDefinitions>().AddAsync(DefinitionKind.Ink, "navy", "{}", seen: 0, "anna");
        const string Kept = "shop_definition is append-only";

        Assert.EndsWith(
            Kept,
            await RefusedAsync(shop, "UPDATE shop_definition SET \"RetiredAt\" = 1"),
            StringComparison.Ordinal
        );
        Assert.EndsWith(Kept, await RefusedAsync(shop, "DELETE FROM shop_definition"), StringComparison.Ordinal);
        if (engine == Engine.Postgres)
        {
            Assert.EndsWith(Kept, await RefusedAsync(shop, "TRUNCATE shop_definition"), StringComparison.Ordinal);
        }
        foreach (var version in new[] { 1, 3 })
        {
            Assert.EndsWith(
                "shop_definition skips or repeats a version",
                await RefusedAsync(
                    shop,
                    db =>
                    {
                        db.ShopDefinitions.Add(
                            new ShopDefinition
                            {
                                Kind = DefinitionKind.Ink,
                                Key = "navy",
                                Version = version,
                                Json = "{}",
                                CreatedBy = "a stray tool",
                            }
                        );
                        return db.SaveChangesAsync();
                    }
                ),
                StringComparison.Ordinal
            );
        }
    }

    private static string NewId(Engine engine) =>
        engine == Engine.Sqlite ? "lower(hex(randomblob(16)))" : "gen_random_uuid()";

    internal static Task<string?> RefusedAsync(TestShop shop, string sql) =>
        RefusedAsync(
            shop,
            db =>
                db.Database.ExecuteSqlRawAsync(
                    sql.Replace("{", "{{", StringComparison.Ordinal).Replace("}", "}}", StringComparison.Ordinal)
                )
        );

    private static async Task<string?> RefusedAsync(TestShop shop, Func<OfficeDb, Task> work)
    {
        var failure = await Record.ExceptionAsync(() => shop.Office.WriteAsync(work));
        return failure?.GetBaseException().Message.TrimEnd('.', '\'');
    }
}
