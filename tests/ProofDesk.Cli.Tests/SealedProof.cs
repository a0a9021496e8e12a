using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Renders;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Cli.Tests;

/// <summary>
/// A version of one print as the server binds it, sealed by whoever holds the log's key: an honest shop, or one that changes a file
/// and signs a manifest that fits.
/// </summary>
internal sealed record SealedProof(
    ImmutableSortedDictionary<string, (FileRole Role, string MediaType, byte[] Bytes)> Files
)
{
    private const string Origin = "harbour-prints.example/log";

    private static readonly SigningKey Shop = new(Origin, [.. Enumerable.Range(0, 32).Select(i => (byte)i)]);

    public static string Key => Shop.Verifier.ToString();

    /// <summary>What `proofdesk make` is told, made as the server makes it.</summary>
    public static async Task<SealedProof> MadeAsync(string art, string mediaType, params string[] options)
    {
        var request = await MakeCommand.RequestAsync(
            MakeArguments.Read([
                art,
                .. options.Contains("--garment") ? Array.Empty<string>() : ["--garment", "tee"],
                "--garment-px",
                "0.5",
                "--film-dpi",
                "300",
                "--out",
                "nowhere",
                .. options,
            ]),
            TextWriter.Null,
            CancellationToken.None
        );
        var proof = ProofMaker.Make(request, null, CancellationToken.None);
        var name = new FilmSetName("1001", "Front print", "1", Released: true);
        var files = new BoundFiles();
        files.Add("front", proof, name, CancellationToken.None);
        files.AddInputs("front", proof, name, mediaType, () => File.OpenRead(art));
        return new(
            files.All.ToImmutableSortedDictionary(
                f => f.Path,
                f => (f.Role, f.MediaType, Bytes(f.Open())),
                StringComparer.Ordinal
            )
        );
    }

    public string Text(string path) => Encoding.UTF8.GetString(Files[path].Bytes);

    public SealedProof With(string path, string from, string to)
    {
        Assert.Contains(from, Text(path), StringComparison.Ordinal);
        var bytes = Encoding.UTF8.GetBytes(Text(path).Replace(from, to, StringComparison.Ordinal));
        return new(Files.SetItem(path, Files[path] with { Bytes = bytes }));
    }

    public SealedProof Without(FileRole role) =>
        new(Files.RemoveRange(Files.Where(f => f.Value.Role == role).Select(f => f.Key)));

    public async Task WriteAsync(string path)
    {
        var text = StatementTexts.Write("en", "1001", 1, 2, HandOver.Dots, "Over and under count: up to 3 %.");
        var manifest = ManifestJson.Write(Manifest(text));
        var said = StatementJson.Write(Approval(Sha256Digest.Of(manifest), StatementTexts.Digest(text)));
        var tree = MerkleTree.Of([
            LogLeaf.Hash(LeafType.Freeze, Sha256Digest.Of(manifest)),
            LogLeaf.Hash(LeafType.Decision, Sha256Digest.Of(said)),
        ]);
        var note = Checkpoint.Of(Origin, tree).Sign(Shop);
        var packet = Packet.Seal(manifest, said, text, [Shop.Verifier], tree, 0, 1, note);
        await using var zip = File.Create(path);
        await PacketWriter.WriteAsync(zip, packet, file => new MemoryStream(Files[file.Path].Bytes));
    }

    private Manifest Manifest(string text) =>
        new(
            "Harbour Prints",
            "1001",
            1,
            "01935f2e-7d3a-7c11-9a55-0d9f5b1c2e77",
            HandOver.Dots,
            "D65",
            [new("front", "front", "plastisol", "S-3XL", 40_000, 27_000, 75_000, 0, [])],
            [new("tee", "black", [new("M", 20)])],
            [new("tee/black", "tee", "black", new(1650, 12, -40))],
            [],
            [
                .. Files.Select(f => new ManifestFile(
                    f.Key,
                    f.Value.Role,
                    f.Value.MediaType,
                    f.Value.Bytes.Length,
                    Sha256Digest.Of(f.Value.Bytes),
                    Convert.ToHexStringLower(SHA512.HashData(f.Value.Bytes))
                )),
            ],
            ImmutableSortedDictionary<string, Sha256Digest>.Empty.Add("en", StatementTexts.Digest(text)),
            new(ProofMaker.EngineVersion, Sha256Digest.Of(Files["front/recipe.json"].Bytes), 1)
        );

    private static DecisionStatement Approval(Sha256Digest manifest, Sha256Digest text) =>
        new(
            DecisionKind.Approve,
            manifest,
            text,
            "en",
            Confirmations.All,
            "Kim Reed",
            "kim@harbour-rowing.example",
            new Evidence(EvidenceLevel.Link, "inv-1", Agent: "a browser"),
            [],
            null,
            null,
            new(2026, 11, 24, 22, 8, 34, 120, TimeSpan.Zero),
            "form-1",
            [.. Enumerable.Repeat((byte)9, 32)]
        );

    private static byte[] Bytes(Stream from)
    {
        using var all = new MemoryStream();
        using (from)
            from.CopyTo(all);
        return all.ToArray();
    }
}
