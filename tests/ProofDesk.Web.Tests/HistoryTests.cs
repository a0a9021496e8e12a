using ProofDesk.Adapters.Database;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Tests;

/// <summary>What changed between two versions of what the shop defined, in words.</summary>
public sealed class HistoryTests
{
    [Fact]
    public void Each_version_says_what_made_it_another_one()
    {
        var rows = DefinitionHistory.Of([
            Row(
                4,
                "{\"name\":\"Back room\",\"record\":{\"xDpi\":720,\"frame\":{\"innerWidthMm\":420}},\"tones\":[0,50]}",
                retired: true
            ),
            Row(
                3,
                "{\"name\":\"Back room\",\"record\":{\"xDpi\":720,\"frame\":{\"innerWidthMm\":420}},\"tones\":[0,50]}"
            ),
            Row(2, "{\"name\":\"Back room\",\"record\":{\"xDpi\":1440,\"mirror\":true},\"tones\":[0,48]}"),
            Row(1, "{\"name\":\"Backroom\",\"record\":{\"xDpi\":1440},\"tones\":[0,48]}"),
        ]);

        Assert.Equal(
            [
                "4: taken out of use",
                "3: x dpi: 1440, now 720; mirror: left out, was yes; tones: 0, 48, now 0, 50; frame inner width mm: new, 420",
                "2: name: Backroom, now Back room; mirror: new, yes",
                "1: first written",
            ],
            rows.Select(r => $"{r.Version}: {string.Join("; ", r.Changes)}")
        );
    }

    [Fact]
    public void Long_texts_are_said_to_be_others_and_many_changes_are_counted()
    {
        string Json(int by) =>
            $"{{\"text\":\"{new string((char)('a' + by), 60)}\",\"n\":[{string.Join(',', Enumerable.Range(0, 12).Select(i => $"{{\"name\":\"f{i}\",\"v\":{i + by}}}"))}]}}";

        var changes = DefinitionHistory.Of([Row(2, Json(1)), Row(1, Json(0))])[0].Changes;

        Assert.Equal("text: another text", changes[0]);
        Assert.Equal("n f0 v: 0, now 1", changes[1]);
        Assert.Equal("and 5 further fields", changes[^1]);
        Assert.Equal(9, changes.Count);
    }

    private static ShopDefinition Row(int version, string json, bool retired = false) =>
        new()
        {
            Key = "back-room",
            Version = version,
            Json = json,
            CreatedBy = "ada",
            RetiredAt = retired ? DateTimeOffset.UnixEpoch : null,
        };
}
