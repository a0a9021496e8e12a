using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class ShopDefinitionTests
{
    [SkippableTheory, OnBothEngines]
    public async Task An_edit_is_the_next_version_and_the_ones_before_stay(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var definitions = shop.Get<ShopDefinitions>();

        var first = await definitions.AddAsync(DefinitionKind.Ink, "navy", """{"c":1}""", seen: 0, "anna");
        shop.Time.Advance(TimeSpan.FromHours(1));
        var second = await definitions.AddAsync(DefinitionKind.Ink, "navy", """{"c":2}""", seen: 1, "bo");

        Assert.Equal((1, 2), (first, second));
        Assert.Equal(
            [(2, """{"c":2}""", "bo", TestShop.Start.AddHours(1)), (1, """{"c":1}""", "anna", TestShop.Start)],
            (await definitions.HistoryAsync(DefinitionKind.Ink, "navy")).Select(row =>
                (row.Version, row.Json, row.CreatedBy, row.CreatedAt)
            )
        );
        Assert.Equal("""{"c":2}""", (await definitions.FindAsync(DefinitionKind.Ink, "navy"))!.Json);
        Assert.Equal("""{"c":1}""", (await definitions.FindAsync(DefinitionKind.Ink, "navy", version: 1))!.Json);
        Assert.Null(await definitions.FindAsync(DefinitionKind.Ink, "navy", version: 3));
        Assert.Null(await definitions.FindAsync(DefinitionKind.Press, "navy"));
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_current_list_holds_the_newest_of_each_key_in_use_by_key(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var definitions = shop.Get<ShopDefinitions>();
        foreach (var (key, version) in new[] { ("b", 1), ("b", 2), ("a-2", 1), ("B", 1), ("a", 1), ("gone", 1) })
        {
            await definitions.AddAsync(DefinitionKind.Ink, key, $"{{\"v\":{version}}}", version - 1, "anna");
        }
        await definitions.AddAsync(DefinitionKind.Press, "a", "{}", 0, "anna");

        var retired = await definitions.RetireAsync(DefinitionKind.Ink, "gone", seen: 1, "anna");

        Assert.Equal(2, retired);
        Assert.Equal(
            [("B", 1), ("a", 1), ("a-2", 1), ("b", 2)],
            (await definitions.CurrentAsync(DefinitionKind.Ink)).Select(row => (row.Key, row.Version))
        );
        var gone = (await definitions.CurrentAsync(DefinitionKind.Ink, withRetired: true)).Single(row =>
            row.Key == "gone"
        );
        Assert.Equal((2, """{"v":1}""", TestShop.Start), (gone.Version, gone.Json, gone.RetiredAt));
        Assert.Null((await definitions.FindAsync(DefinitionKind.Ink, "gone", version: 1))!.RetiredAt);
    }

    [SkippableTheory, OnBothEngines]
    public async Task What_was_retired_comes_back_with_its_next_version(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var definitions = shop.Get<ShopDefinitions>();
        await definitions.AddAsync(DefinitionKind.RateCard, "autumn", "{}", 0, "anna");
        await definitions.RetireAsync(DefinitionKind.RateCard, "autumn", 1, "anna");

        var back = await definitions.AddAsync(DefinitionKind.RateCard, "autumn", """{"hour":60}""", 2, "anna");

        Assert.Equal(3, back);
        Assert.Equal(3, (await definitions.CurrentAsync(DefinitionKind.RateCard)).Single().Version);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Who_did_not_see_the_newest_version_writes_nothing(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var definitions = shop.Get<ShopDefinitions>();
        await definitions.AddAsync(DefinitionKind.Press, "carousel", "{}", 0, "anna");

        Assert.Null(await definitions.AddAsync(DefinitionKind.Press, "carousel", "{}", 0, "bo"));
        Assert.Null(await definitions.AddAsync(DefinitionKind.Press, "carousel", "{}", 7, "bo"));
        Assert.Null(await definitions.RetireAsync(DefinitionKind.Press, "carousel", 0, "bo"));
        Assert.Null(await definitions.RetireAsync(DefinitionKind.Press, "another", 0, "bo"));
        Assert.Single(await definitions.HistoryAsync(DefinitionKind.Press, "carousel"));
        Assert.Equal(["Press carousel version 1"], await NotesAsync(shop, "definition written"));
        Assert.Empty(await NotesAsync(shop, "definition retired"));
    }

    [SkippableTheory, OnBothEngines]
    public async Task Of_many_who_write_at_once_one_writes_each_version(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var definitions = shop.Get<ShopDefinitions>();

        var written = await Task.WhenAll(
            Enumerable
                .Range(0, 12)
                .Select(who =>
                    Task.Run(() => definitions.AddAsync(DefinitionKind.Ink, "navy", "{}", 0, $"writer {who}"))
                )
        );

        Assert.Single(written, 1);
        Assert.Equal(11, written.Count(version => version is null));
        Assert.Single(await definitions.HistoryAsync(DefinitionKind.Ink, "navy"));
    }

    private static async Task<IReadOnlyList<string>> NotesAsync(TestShop shop, string action)
    {
        await using var db = shop.Office.Open();
        return await Microsoft.EntityFrameworkCore.EntityFrameworkQueryableExtensions.ToListAsync(
            db.AuditEvents.Where(row => row.Action == action).Select(row => row.Detail)
        );
    }
}
