using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Approvals.Tests;

/// <summary>Small made-up values, so that each test shows only the fact that matters.</summary>
internal static class Samples
{
    public const string Origin = "lindhag.example/proofs/1";

    public static readonly DateTimeOffset At = new(2026, 11, 24, 22, 8, 34, 120, TimeSpan.Zero);

    public static SigningKey Key { get; } = new(Origin, Bytes(32, 7));

    /// <summary>The bound files: a real picture of one pixel and stand-ins for plates and lists.</summary>
    public static IReadOnlyDictionary<string, byte[]> Files { get; } =
        new Dictionary<string, byte[]>(StringComparer.Ordinal)
        {
            ["print.png"] = Convert.FromBase64String(
                "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
            ),
            ["plates/01-white.tif"] = Bytes(300, 1),
            ["plates/02-red.tif"] = Bytes(200, 2),
            ["ink-list.json"] = "{\"inks\":[]}"u8.ToArray(),
            ["recipe.json"] = "{\"seed\":7}"u8.ToArray(),
            ["empty.json"] = [],
        };

    public static string Text(string locale = "en") =>
        StatementTexts.Write(locale, "HRC-104", 3, 2, HandOver.Dots, "Over and under count: up to 3 %.");

    public static Manifest Manifest() =>
        new(
            "Lindhag Screen Works",
            "HRC-104",
            3,
            "01935f2e-7d3a-7c11-9a55-0d9f5b1c2e77",
            HandOver.Dots,
            "D50",
            [new("front", "front", "plastisol", "S-3XL", 280_000, 193_500, 75_000, 0, ["HARBOUR", "ROWING", "CLUB"])],
            [new("tee", "black", [new("M", 20), new("L", 15)]), new("tee", "red", [new("S", 5)])],
            [new("black", "tee", "black", new(1650, 12, -40)), new("red", "tee", "red", new(4010, 5820, 3105))],
            [
                new(
                    "front",
                    1,
                    "base",
                    "61 t/cm",
                    0,
                    0,
                    181_250,
                    "plates/01-white.tif",
                    [new("black", "White", new(8890, -80, 150))]
                ),
                new(
                    "front",
                    2,
                    "spot",
                    "90 t/cm",
                    45,
                    22_500,
                    92_001,
                    "plates/02-red.tif",
                    [new("black", "Red", new(4720, 6510, 4120)), new("red", "Red", new(4700, 6490, 4100))]
                ),
            ],
            [.. Files.Select(f => File(f.Key, f.Value))],
            ImmutableSortedDictionary<string, Sha256Digest>
                .Empty.Add("de", StatementTexts.Digest(Text("de")))
                .Add("en", StatementTexts.Digest(Text())),
            new("0.1.0", Sha256Digest.Of(Files["recipe.json"]), 7)
        );

    public static DecisionStatement Approval() =>
        new(
            DecisionKind.Approve,
            Sha256Digest.Of(ManifestJson.Write(Manifest())),
            StatementTexts.Digest(Text()),
            "en",
            Confirmations.All,
            "Ada Strand",
            "ada@harbour-rowing.example",
            new Evidence(EvidenceLevel.Link, "inv-1", Agent: "a browser"),
            [],
            null,
            null,
            At,
            "form-1",
            [.. Bytes(32, 9)]
        );

    public static DecisionContext Context() =>
        new(
            Sha256Digest.Of(ManifestJson.Write(Manifest())),
            Manifest().StatementTexts,
            3,
            Sent: true,
            SupersededBy: null,
            At.AddDays(30),
            LinkRevoked: false,
            Effective: null,
            HoldEnds: null
        );

    /// <summary>A log of 21 entries in which the manifest is entry 5 and the statement entry 12.</summary>
    public static Packet Packet(DecisionStatement? statement = null, SigningKey? key = null, Manifest? manifest = null)
    {
        var manifestBytes = ManifestJson.Write(manifest ?? Manifest());
        var said = StatementJson.Write(statement ?? Approval());
        var leaves = Enumerable.Range(0, 21).Select(i => MerkleTree.LeafHash(Bytes(8, i))).ToList();
        leaves[5] = LogLeaf.Hash(LeafType.Freeze, Sha256Digest.Of(manifestBytes));
        leaves[12] = LogLeaf.Hash(LeafType.Decision, Sha256Digest.Of(said));
        var tree = MerkleTree.Of(leaves);
        var note = Checkpoint.Of(Origin, tree).Sign(key ?? Key);
        return Approvals.Packets.Packet.Seal(
            manifestBytes,
            said,
            Text((statement ?? Approval()).Locale),
            [(key ?? Key).Verifier],
            tree,
            5,
            12,
            note
        );
    }

    public static async Task<byte[]> Zip(Packet? packet = null)
    {
        using var stream = new MemoryStream();
        await PacketWriter.WriteAsync(stream, packet ?? Packet(), f => new MemoryStream(Files[f.Path]));
        return stream.ToArray();
    }

    public static Verdict Verify(byte[] zip, VerifyOptions? options = null)
    {
        using var stream = new MemoryStream(zip);
        return PacketVerifier.Verify(stream, options ?? VerifyOptions.Nothing);
    }

    public static VerifyOptions KnowingTheKey { get; } = new([Key.Verifier], []);

    public static byte[] Bytes(int count, int seed) =>
        [.. Enumerable.Range(0, count).Select(i => (byte)((i * 31) + (seed * 17) & 0xFF))];

    public static string Ascii(byte[] bytes) => Encoding.ASCII.GetString(bytes);

    private static ManifestFile File(string path, byte[] bytes) =>
        new(
            path,
            path switch
            {
                "print.png" => FileRole.Picture,
                "ink-list.json" => FileRole.InkList,
                "recipe.json" => FileRole.Recipe,
                "empty.json" => FileRole.Findings,
                _ => FileRole.Plate,
            },
            path.EndsWith(".png", StringComparison.Ordinal) ? "image/png" : "application/octet-stream",
            bytes.Length,
            Sha256Digest.Of(bytes),
            Convert.ToHexStringLower(SHA512.HashData(bytes))
        );
}
