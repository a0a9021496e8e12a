using System.Collections.Immutable;
using System.IO.Compression;
using System.Text;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;
using static ProofDesk.Approvals.Tests.Packets.Archives;

namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>A packet, what somebody knows from elsewhere, and the answer a verifier must give.</summary>
/// <param name="Packet">Name of the archive below tests/Vectors/packets.</param>
/// <param name="Code">The first step that is WRONG, or nothing.</param>
internal sealed record Vector(
    string Name,
    string Packet,
    byte[] Zip,
    int Exit,
    string Code = "",
    string Keys = "",
    string Trust = "",
    string Held = ""
);

/// <summary>How the vectors of tests/Vectors were made. The files there are kept: a new one is added here, an old one never changes.</summary>
internal static class VectorList
{
    private const string Manifest = "data/manifest.json";
    private const string Statement = "data/statement.json";
    private const string Decision = "proofs/decision.tlog-proof";
    private static readonly string Key = Samples.Key.Verifier.ToString();
    private static readonly SigningKey Next = new(Samples.Origin, Samples.Bytes(32, 21));
    private static readonly SigningKey Stranger = new(Samples.Origin, Samples.Bytes(32, 5));

    public static async Task<IReadOnlyList<Vector>> MakeAsync()
    {
        var approved = await Samples.Zip();
        return
        [
            .. Whole(approved),
            .. await Kinds(),
            .. await Keys(),
            .. Archive(approved),
            .. Records(approved),
            .. Proofs(approved),
        ];
    }

    private static IEnumerable<Vector> Whole(byte[] zip)
    {
        var (at13, at21, forked) = Receipts();
        yield return new("approved, its key known", "approved", zip, 0, Keys: Key);
        yield return new("approved, nothing known", "approved", zip, 2);
        yield return new("approved, another key given", "approved", zip, 1, "anchored", Stranger.Verifier.ToString());
        yield return new(
            "approved, one of two keys given",
            "approved",
            zip,
            0,
            Keys: $"{Stranger.Verifier} {Samples.Key.Verifier}"
        );
        yield return new("approved, in the trust file", "approved", zip, 0, Trust: $"# shops\n\n{Key} # ours\n");
        yield return new("approved, trust file of another shop", "approved", zip, 2, Trust: Other().ToString());
        yield return new(
            "approved, trust file has another key of that log",
            "approved",
            zip,
            1,
            "anchored",
            Trust: $"{Stranger.Verifier}\n"
        );
        yield return new("approved, key revoked later", "approved", zip, 0, Trust: $"{Key} until 22\n");
        yield return new("approved, key revoked before", "approved", zip, 1, "anchored", Trust: $"{Key} until 21\n");
        yield return new(
            "approved, key given but revoked in the trust file",
            "approved",
            zip,
            1,
            "anchored",
            Key,
            $"{Key}\n{Key} until 7\n"
        );
        yield return new("approved, receipt of a smaller log", "approved", zip, 0, Held: at13);
        yield return new("approved, receipt of the same size", "approved", zip, 0, Held: at21);
        yield return new("approved, receipt of a forked log", "approved", zip, 1, "anchored", Held: forked);
        yield return new(
            "approved, receipt of another decision",
            "approved",
            zip,
            1,
            "anchored",
            Held: Receipt(Leaves().SetItem(12, MerkleTree.LeafHash("another"u8)), Samples.Key)
        );
        yield return new("approved, checkpoint of the same size", "approved", zip, 0, Held: Note(at21));
        yield return new("approved, checkpoint of another size", "approved", zip, 2, Held: Note(at13));
        yield return new("approved, forked checkpoint", "approved", zip, 1, "anchored", Held: Note(forked));
        yield return new("approved, checkpoint of a stranger", "approved", zip, 1, "anchored", Held: Strange());
        yield return new("approved, receipt that is none", "approved", zip, 1, "anchored", Held: "thank you\n");
    }

    private static async Task<List<Vector>> Kinds()
    {
        var approval = Samples.Approval();
        var elsewhere = new GivenElsewhere("Kim", "telephone", Samples.At, Sha256Digest.Of("note"u8));
        var said = new List<(string, DecisionStatement)>
        {
            (
                "changes",
                approval with
                {
                    Kind = DecisionKind.Changes,
                    Confirmed = Confirmations.None,
                    Changes = [new("word <ROWING>", "ROWERS & \"co\"\nand 'more'"), new("ink 2", "redder")],
                    Comment = "tab\there, \u2028 and \u00fc, \U0001f6a3",
                }
            ),
            (
                "withdrawn",
                approval with
                {
                    Kind = DecisionKind.Withdraw,
                    Confirmed = Confirmations.None,
                    Withdraws = Sha256Digest.Of("x"u8),
                }
            ),
            (
                "with-code",
                approval with
                {
                    Evidence = new(EvidenceLevel.Code, "inv-1", Samples.At, Network: "203.0.113.0/24"),
                }
            ),
            ("elsewhere", approval with { Evidence = new(EvidenceLevel.GivenElsewhere, "none", Elsewhere: elsewhere) }),
            ("german", approval with { Locale = "de", StatementText = StatementTexts.Digest(Samples.Text("de")) }),
        };
        var vectors = new List<Vector>();
        foreach (var (name, statement) in said)
        {
            vectors.Add(new(name, name, await Samples.Zip(Samples.Packet(statement)), 0, Keys: Key));
        }

        var odd = Samples.Manifest() with
        {
            Shop = "Lindhag\u2028& S\u00f6hne\f<b>",
            ViewingLight = "D50 & \"D65\"",
            HandOver = HandOver.Tones,
            Plates = [],
        };
        odd = odd with
        {
            Prints =
            [
                odd.Prints[0] with
                {
                    WidthUm = 127,
                    HeightUm = 4_999_999,
                    FromSeamUm = -12_700,
                    FromCentreUm = -381,
                    Words = [],
                },
                odd.Prints[0] with
                {
                    Id = "back",
                    FromSeamUm = -100,
                    FromCentreUm = 381,
                },
            ],
        };
        var oddSaid = approval with { Manifest = Sha256Digest.Of(ManifestJson.Write(odd)) };
        vectors.Add(
            new("odd-measures", "odd-measures", await Samples.Zip(Samples.Packet(oddSaid, manifest: odd)), 0, Keys: Key)
        );
        return vectors;
    }

    private static async Task<List<Vector>> Keys()
    {
        var both = await Samples.Zip(Sealed(Leaves(), Samples.Key, Next));
        var witness = new SigningKey("witness.example", Samples.Bytes(32, 8));
        var seen = await Samples.Zip(Sealed(Leaves(), Samples.Key, witness) with { Keys = [Samples.Key.Verifier] });
        return
        [
            new("two keys, the old one known", "two-keys", both, 0, Keys: Key),
            new("two keys, the new one known", "two-keys", both, 0, Keys: Next.Verifier.ToString()),
            new("two keys, the old one revoked", "two-keys", both, 0, Trust: $"{Key} until 15\n{Next.Verifier}\n"),
            new(
                "two keys, both revoked",
                "two-keys",
                both,
                1,
                "anchored",
                Trust: $"{Key} until 15\n{Next.Verifier} until 20\n"
            ),
            new(
                "two keys, receipt signed by the revoked one alone",
                "two-keys",
                both,
                1,
                "anchored",
                Trust: $"{Key} until 15\n{Next.Verifier}\n",
                Held: Receipt(Leaves()[..18], Samples.Key)
            ),
            new("a witness signed too", "witness", seen, 0, Keys: Key),
            new(
                "forged anew with another key",
                "forged",
                await Samples.Zip(Samples.Packet(Samples.Approval() with { Name = "Somebody Else" }, Stranger)),
                1,
                "anchored",
                Key
            ),
        ];
    }

    private static IEnumerable<Vector> Archive(byte[] zip)
    {
        Vector Wrong(string name, byte[] bent, int exit = 1) =>
            new(name, Slug(name), bent, exit, exit == 3 ? "" : "archive", Key);
        var files = Unpack(zip);
        yield return Wrong("cut short", zip[..^900]);
        yield return Wrong("cut in a header", zip[..17]);
        yield return Wrong("a byte after the end", [.. zip, 0]);
        yield return Wrong("a byte before the start", [0, .. zip], 3);
        yield return Wrong("empty", [], 3);
        yield return Wrong("no archive", "not an archive"u8.ToArray(), 3);
        yield return Wrong("repacked by another program", Repacked(files));
        yield return Wrong("a file removed", Pack([.. files.Where(f => f.Name != "data/files/print.png")]));
        yield return Wrong("a file too many", Pack([.. files, ("data/files/zz.txt", "more"u8.ToArray())]));
        yield return Wrong(
            "a climbing path",
            Pack([.. files[..8], ("data/files/../../x", "more"u8.ToArray()), .. files[8..]])
        );
        yield return Wrong("two files in another order", Pack([files[0], files[2], files[1], .. files[3..]]));
        yield return Wrong("a file longer than bound", With(zip, "data/files/recipe.json", b => [.. b, 10]));
        yield return Wrong("a wrong check sum", Bent(zip, 14));
        yield return Wrong("a wrong time", Bent(zip, 10));
        yield return Wrong("a wrong directory entry", Bent(zip, zip.Length - 40));
        yield return Wrong("a comment at the end", [.. zip[..^2], 1, 0, 65]);
    }

    private static IEnumerable<Vector> Records(byte[] zip)
    {
        Vector Wrong(string name, byte[] bent, string code = "archive") => new(name, Slug(name), bent, 1, code, Key);
        Vector Said(string name, string file, string from, string to, string code = "archive") =>
            Wrong(name, With(zip, file, from, to), code);
        yield return Wrong(
            "a bound file changed",
            With(zip, "data/files/plates/02-red.tif", b => Bent(b, 100)),
            "files"
        );
        yield return Said("a count changed", Manifest, "\"pieces\":20", "\"pieces\":21", "bound");
        yield return Said("white space in the manifest", Manifest, "{\"files\"", "{ \"files\"");
        yield return Said("a member unknown", Manifest, "\"version\":3", "\"verse\":1,\"version\":3");
        yield return Said("a member missing", Manifest, ",\"version\":3", "");
        yield return Said("a key twice", Manifest, "\"version\":3", "\"version\":3,\"version\":3");
        yield return Said("a fraction", Manifest, "\"version\":3", "\"version\":3.0");
        yield return Said("a null", Manifest, "\"version\":3", "\"version\":null");
        yield return Said("a number beyond 2^53", Manifest, "\"seed\":7", "\"seed\":9007199254740992");
        yield return Said("a number with a leading zero", Manifest, "\"seed\":7", "\"seed\":07");
        yield return Said("half a surrogate pair", Manifest, "HARBOUR", "\\ud83dX");
        yield return Said("an escape that is none", Manifest, "HARBOUR", "\\u12\0\0");
        yield return Said("an escape too long", Manifest, "HARBOUR", "HARB\\u004fUR");
        yield return Said("not in normalisation form C", Manifest, "HARBOUR", "HARBU\u0308R");
        yield return Said("a path with a device name", Manifest, "recipe.json", "con.json");
        yield return Said("a digest in capitals", Manifest, "\"sha256\":\"", "\"sha256\":\"A");
        yield return Said("a plate without its file", Manifest, "\"role\":\"plate\"", "\"role\":\"art\"");
        yield return Wrong("not UTF-8", With(zip, Manifest, b => [.. b[..300], 0xe2, 0x28, 0xa1, .. b[303..]]));
        yield return Wrong("a byte order mark", With(zip, Manifest, b => [0xef, 0xbb, 0xbf, .. b]));
        yield return Wrong("33 levels", With(zip, Manifest, _ => Encoding.ASCII.GetBytes(new string('[', 33))));
        yield return Said("a name changed", Statement, "Ada Strand", "Ada Strang", "decided");
        yield return Said("a time that is none", Statement, "2026-11-24", "2026-02-29");
        yield return Said("a name of blanks", Statement, "Ada Strand", "\u00a0\u2003\u3000", "said");
        yield return Said("an evidence level unknown", Statement, "\"E0\"", "\"E9\"");
        yield return Wrong("other sentences", With(zip, "data/statement-text.en.txt", "right", "wrong"), "text");
        yield return Wrong("sentences that are not UTF-8", With(zip, "data/statement-text.en.txt", b => [0xff, .. b]));
        yield return Wrong(
            "record.html says another name",
            With(zip, "record.html", "Ada Strand", "Bo Lind"),
            "copies"
        );
        yield return Wrong(
            "README.txt says another version",
            With(zip, "README.txt", "version 3", "version 4"),
            "copies"
        );
        yield return Wrong(
            "a logged approval with a box not ticked",
            Unchecked(Samples.Packet(Samples.Approval() with { Confirmed = Confirmations.All with { Words = false } })),
            "said"
        );
        yield return Wrong(
            "a logged decision on another manifest",
            Unchecked(Samples.Packet(Samples.Approval() with { Manifest = Sha256Digest.Of("another"u8) })),
            "bound"
        );
    }

    private static IEnumerable<Vector> Proofs(byte[] zip)
    {
        Vector Wrong(string name, byte[] bent, string code = "signed") => new(name, Slug(name), bent, 1, code, Key);
        yield return Wrong("another index", With(zip, Decision, "index 12", "index 13"), "decided");
        yield return Wrong("an index with a leading zero", With(zip, Decision, "index 12", "index 012"));
        yield return Wrong("extra data in a proof", With(zip, Decision, "\nindex 12", "\nextra aGludA==\nindex 12"));
        yield return Wrong(
            "two checkpoints",
            With(zip, "proofs/freeze.tlog-proof", b => Encoding.UTF8.GetBytes(Refrozen(b)))
        );
        yield return Wrong("a size changed in the checkpoint", With(zip, Decision, "\n21\n", "\n22\n"));
        yield return Wrong("a signature changed", With(zip, Decision, SignatureChanged));
        yield return Wrong("a proof that is none", With(zip, Decision, _ => "thank you\n"u8.ToArray()));
        yield return Wrong(
            "a key with a wrong id",
            With(zip, "proofs/keys.txt", "+7353cc81+", "+7353cc82+"),
            "archive"
        );
        yield return Wrong("a key twice in the list", With(zip, "proofs/keys.txt", b => [.. b, .. b]), "archive");
        yield return Wrong(
            "a key that signed nothing",
            Unchecked(Samples.Packet() with { Keys = [Samples.Key.Verifier, Next.Verifier] })
        );
        yield return Wrong("a key of another name", Unchecked(Renamed()));
        yield return Wrong(
            "decided before it was frozen",
            Unchecked(Sealed(Leaves().SetItem(5, Leaves()[12]).SetItem(12, Leaves()[5]), (12, 5), Samples.Key))
        );
        yield return Wrong(
            "a leaf of another family",
            Unchecked(
                Sealed(
                    Leaves()
                        .SetItem(
                            12,
                            LogLeaf.Hash(LeafType.Admin, Sha256Digest.Of(StatementJson.Write(Samples.Approval())))
                        ),
                    Samples.Key
                )
            ),
            "decided"
        );
    }

    private static ImmutableArray<byte[]> Leaves()
    {
        var packet = Samples.Packet();
        var leaves = Enumerable.Range(0, 21).Select(i => MerkleTree.LeafHash(Samples.Bytes(8, i))).ToImmutableArray();
        return leaves
            .SetItem(5, LogLeaf.Hash(LeafType.Freeze, Sha256Digest.Of(packet.Manifest.AsSpan())))
            .SetItem(12, LogLeaf.Hash(LeafType.Decision, Sha256Digest.Of(packet.Statement.AsSpan())));
    }

    private static Packet Sealed(ImmutableArray<byte[]> leaves, params SigningKey[] keys) =>
        Sealed(leaves, (5, 12), keys);

    private static Packet Sealed(ImmutableArray<byte[]> leaves, (int Freeze, int Decision) at, params SigningKey[] keys)
    {
        var packet = Samples.Packet();
        var tree = MerkleTree.Of(leaves);
        return Packet.Seal(
            packet.Manifest.AsSpan(),
            packet.Statement.AsSpan(),
            packet.StatementText,
            keys.Select(k => k.Verifier),
            tree,
            at.Freeze,
            at.Decision,
            Checkpoint.Of(Samples.Origin, tree).Sign(keys)
        );
    }

    private static Packet Renamed()
    {
        var other = new SigningKey("other.example/proofs/1", Samples.Bytes(32, 7));
        return Sealed(Leaves(), other);
    }

    private static (string At13, string At21, string Forked) Receipts() =>
        (
            Receipt(Leaves()[..13], Samples.Key),
            Receipt(Leaves(), Samples.Key),
            Receipt(Leaves().SetItem(20, MerkleTree.LeafHash("another"u8)), Samples.Key)
        );

    private static string Receipt(ImmutableArray<byte[]> leaves, SigningKey key)
    {
        var tree = MerkleTree.Of(leaves);
        return TlogProof.Of(tree, 12, Checkpoint.Of(Samples.Origin, tree).Sign(key)).Write();
    }

    private static string Note(string receipt) => TlogProof.Parse(receipt).CheckpointNote;

    private static string Strange() => Checkpoint.Of(Samples.Origin, MerkleTree.Of(Leaves())).Sign(Stranger);

    private static VerifierKey Other() => new SigningKey("other.example/proofs/1", Samples.Bytes(32, 30)).Verifier;

    private static string Refrozen(byte[] proof)
    {
        var parsed = TlogProof.Parse(Encoding.UTF8.GetString(proof));
        return (parsed with { CheckpointNote = Note(Receipts().Forked) }).Write();
    }

    private static byte[] SignatureChanged(byte[] proof)
    {
        var text = Encoding.UTF8.GetString(proof);
        var at = text.LastIndexOf(' ') + 20;
        return Encoding.UTF8.GetBytes(text[..at] + (text[at] == 'A' ? 'B' : 'A') + text[(at + 1)..]);
    }

    private static byte[] Bent(byte[] bytes, int at)
    {
        byte[] bent = [.. bytes];
        bent[at] ^= 1;
        return bent;
    }

    private static byte[] Repacked(List<(string Name, byte[] Bytes)> files)
    {
        using var to = new MemoryStream();
        using (var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, bytes) in files)
            {
                var entry = zip.CreateEntry(name, CompressionLevel.NoCompression);
                entry.LastWriteTime = Samples.At;
                using var stream = entry.Open();
                stream.Write(bytes);
            }
        }

        return to.ToArray();
    }

    private static string Slug(string name) =>
        string.Join('-', name.ToLowerInvariant().Split([' ', '.', '^', ','], StringSplitOptions.RemoveEmptyEntries));
}
