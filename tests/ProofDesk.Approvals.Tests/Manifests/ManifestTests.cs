using System.Collections.Immutable;
using System.Text;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Manifests;

public sealed class ManifestTests
{
    [Fact]
    public void A_manifest_reads_back_as_it_was_written()
    {
        var bytes = ManifestJson.Write(Samples.Manifest());

        var again = ManifestJson.Parse(bytes);

        Assert.Equal(bytes, ManifestJson.Write(again));
        Assert.Equal("HARBOUR ROWING CLUB", string.Join(' ', again.Prints[0].Words));
        Assert.Equal(new LabHundredths(4700, 6490, 4100), again.Plates[1].OnGrounds[1].Lab);
        Assert.Equal(35, again.Lines[0].Counts.Sum(c => c.Pieces));
    }

    [Fact]
    public void Files_are_written_in_the_order_of_their_paths()
    {
        var turned = Samples.Manifest() with { Files = [.. Samples.Manifest().Files.Reverse()] };

        Assert.Equal(ManifestJson.Write(Samples.Manifest()), ManifestJson.Write(turned));
    }

    [Theory]
    [InlineData("\"widthUm\":280000", "\"widthUm\":0", "prints[0].widthUm is 0, must be 1 to 5000000")]
    [InlineData("\"widthUm\":280000", "\"widthUm\":\"280000\"", "prints[0].widthUm must be a whole number")]
    [InlineData("\"version\":3,", "", "version is missing")]
    [InlineData("\"version\":3,", "\"version\":3,\"versionA\":1,", "versionA is not a member this format knows")]
    [InlineData(
        "proofdesk-manifest/1",
        "proofdesk-manifest/2",
        "profile is 'proofdesk-manifest/2', must be 'proofdesk-manifest/1'"
    )]
    [InlineData("dots bound", "dots", "handOver is 'dots', must be one of dots bound, tones bound, dots simulated")]
    [InlineData(
        "\"coveragePpm\":181250",
        "\"coveragePpm\":1000001",
        "plates[0].coveragePpm is 1000001, must be 0 to 1000000"
    )]
    [InlineData("\"ground\":\"red\"", "\"ground\":\"rad\"", "plates[1].onGrounds is 'rad', must be one of black, red")]
    [InlineData(
        "\"path\":\"print.png\"",
        "\"path\":\"../print.png\"",
        "files[4].path '../print.png' may hold ASCII letters, digits, '.', '-', '_' and '/', at most 180 in all"
    )]
    [InlineData("\"path\":\"print.png\"", "\"path\":\"Recipe.json\"", "files name 'recipe.json' 2 times")]
    [InlineData("\"path\":\"print.png\"", "\"path\":\"a.png\"", "files are not in the order of their paths")]
    [InlineData(
        "\"lab\":[1650,12,-40]",
        "\"lab\":[1650,12]",
        "grounds[0].lab must be L, a, b in hundredths: three whole numbers, L 0 to 20000, a and b -20000 to 20000"
    )]
    public void A_wrong_field_is_named_with_its_limit(string from, string to, string message)
    {
        var json = Encoding.UTF8.GetString(ManifestJson.Write(Samples.Manifest()));
        Assert.Contains(from, json, StringComparison.Ordinal);

        var wrong = Encoding.UTF8.GetBytes(json.Replace(from, to, StringComparison.Ordinal));

        Assert.Equal(message, Assert.Throws<RecordFormatException>(() => ManifestJson.Parse(wrong)).Message);
    }

    [Fact]
    public void A_manifest_that_breaks_its_limits_is_never_written() =>
        Assert.Equal(
            "prints has 0 entries, must be 1 to 100",
            Assert
                .Throws<RecordFormatException>(() => ManifestJson.Write(Samples.Manifest() with { Prints = [] }))
                .Message
        );

    [Theory]
    [InlineData("plates/01-white.tif", true)]
    [InlineData("a/../b", false)]
    [InlineData("/a", false)]
    [InlineData("a//b", false)]
    [InlineData(".hidden", false)]
    [InlineData("a\\b", false)]
    [InlineData("c:a", false)]
    [InlineData("nul.png", false)]
    [InlineData("plates/com1", false)]
    [InlineData("dot.", false)]
    [InlineData("\u00e4.png", false)]
    [InlineData("", false)]
    public void Only_names_that_are_safe_on_every_system_are_bound(string path, bool safe) =>
        Assert.Equal(safe, FilePath.IsSafe(path));

    [Fact]
    public void Every_change_of_a_value_changes_the_digest()
    {
        var m = Samples.Manifest();
        Manifest[] changed =
        [
            m with
            {
                Shop = "x",
            },
            m with
            {
                Order = "x",
            },
            m with
            {
                Version = 4,
            },
            m with
            {
                VersionId = "x",
            },
            m with
            {
                HandOver = HandOver.Tones,
            },
            m with
            {
                ViewingLight = "D65",
            },
            m with
            {
                Prints = [m.Prints[0] with { FromCentreUm = 1 }],
            },
            m with
            {
                Prints = [m.Prints[0] with { Words = ["HARBOR"] }],
            },
            m with
            {
                Lines = m.Lines.RemoveAt(1),
            },
            m with
            {
                Grounds = m.Grounds.SetItem(0, m.Grounds[0] with { Lab = new(1651, 12, -40) }),
            },
            m with
            {
                Plates = m.Plates.SetItem(0, m.Plates[0] with { CoveragePpm = 1 }),
            },
            m with
            {
                Files = m.Files.SetItem(0, m.Files[0] with { Sha512Hex = new string('0', 128) }),
            },
            m with
            {
                StatementTexts = m.StatementTexts.Remove("de"),
            },
            m with
            {
                Render = m.Render with { Seed = 8 },
            },
        ];

        var digests = changed.Append(m).Select(c => Sha256Digest.Of(ManifestJson.Write(c))).ToImmutableHashSet();

        Assert.Equal(changed.Length + 1, digests.Count);
    }
}
