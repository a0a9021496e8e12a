using System.Text.Encodings.Web;
using System.Text.Json;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>
/// One directory of packets with the answers that every verifier must give: tests/Vectors. The verifier of the command line and the
/// one of verify.html run over it and must agree word for word. PROOFDESK_WRITE_GOLDEN=1 adds what is missing there.
/// </summary>
public sealed class VectorTests
{
    private static readonly JsonSerializerOptions Written = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    private static readonly bool Long = Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    /// <summary>A line of index.json.</summary>
    private sealed record Entry(
        string Name,
        string Packet,
        string Keys,
        string Trust,
        string Held,
        int Exit,
        string Code,
        string Summary
    );

    [Fact]
    public async Task Every_vector_gets_the_answer_the_index_says()
    {
        if (Environment.GetEnvironmentVariable("PROOFDESK_WRITE_GOLDEN") == "1")
        {
            await WriteAsync();
        }

        var entries = Index();

        Assert.True(entries.Count >= 80, $"{entries.Count} vectors");
        Assert.All(
            entries,
            entry =>
            {
                var answer = Verify(File.ReadAllBytes(Zip(entry.Packet)), entry.Keys, entry.Trust, entry.Held);
                Assert.Equal(
                    (entry.Name, entry.Exit, entry.Code, entry.Summary),
                    (entry.Name, answer.Exit, FirstWrong(answer), answer.Summary)
                );
            }
        );
    }

    [Fact]
    public async Task The_vectors_are_still_made_as_they_were()
    {
        var entries = Index().ToDictionary(e => e.Name);

        Assert.All(
            await VectorList.MakeAsync(),
            made =>
            {
                Assert.Equal((made.Exit, made.Code), (entries[made.Name].Exit, entries[made.Name].Code));
                Assert.Equal(File.ReadAllBytes(Zip(made.Packet)), made.Zip);
            }
        );
    }

    [SkippableFact]
    public void The_page_gives_the_same_answers_word_for_word()
    {
        var entries = Index();
        var said = JavaScript.Check(entries.Select(e => new Job(Zip(e.Packet), 0, -1, e.Keys, e.Trust, e.Held)));

        Assert.Equal(entries.Count, said.Count);
        Assert.All(
            entries.Zip(said),
            pair =>
                Assert.Equal(
                    $"{pair.First.Name}: {Verify(File.ReadAllBytes(Zip(pair.First.Packet)), pair.First.Keys, pair.First.Trust, pair.First.Held).Told}",
                    $"{pair.First.Name}: {pair.Second.Told}"
                )
        );
    }

    // 300 random changes as a rule, 10,000 with PROOFDESK_LONG=1; every class of PacketMutationTests in turn.
    [SkippableFact]
    public async Task Random_changes_are_found_by_both_verifiers_with_the_same_words()
    {
        var random = new Random(20261128);
        var sources = Index()
            .Where(e => e.Exit == 0)
            .Select(e => e.Packet)
            .Distinct()
            .Select(p => File.ReadAllBytes(Zip(p)))
            .ToList();
        var bundle = Path.GetTempFileName();
        try
        {
            var left = Long ? 10_000 : 300;
            while (left > 0)
            {
                var bent = Bent(sources, Math.Min(left, 500), random);
                await File.WriteAllBytesAsync(bundle, [.. bent.SelectMany(zip => zip)]);
                var from = 0L;
                var jobs = bent.Select(zip => new Job(bundle, (from += zip.Length) - zip.Length, zip.Length, Key))
                    .ToList();
                foreach (var (zip, said) in bent.Zip(JavaScript.Check(jobs)))
                {
                    var answer = Verify(zip, Key, "", "");
                    Assert.True(answer.Exit is 1 or 3, $"a change was not found: {answer.Told}");
                    Assert.Equal(answer.Told, said.Told);
                }

                left -= bent.Count;
            }
        }
        finally
        {
            File.Delete(bundle);
        }
    }

    private static string Key { get; } = Samples.Key.Verifier.ToString();

    /// <summary>Changed archives, and well-formed archives whose files were changed: each other than its source.</summary>
    private static List<byte[]> Bent(List<byte[]> sources, int count, Random random)
    {
        var bent = new List<byte[]>();
        while (bent.Count < count)
        {
            var zip = sources[random.Next(sources.Count)];
            var kind = PacketMutationTests.Kinds[bent.Count % PacketMutationTests.Kinds.Length];
            var made = random.Next(2) == 0 ? PacketMutationTests.Bend(kind, zip, random) : Inside(kind, zip, random);
            if (!made.AsSpan().SequenceEqual(zip))
            {
                bent.Add(made);
            }
        }

        return bent;
    }

    private static byte[] Inside(string kind, byte[] zip, Random random)
    {
        var files = Archives.Unpack(zip);
        var at = random.Next(9);
        return files[at].Bytes.Length > 128
            ? Archives.With(zip, files[at].Name, bytes => PacketMutationTests.Bend(kind, bytes, random))
            : PacketMutationTests.Bend(kind, zip, random);
    }

    private static Answer Verify(byte[] zip, string keys, string trust, string held) =>
        Answer.Of(
            Samples.Verify(
                zip,
                new VerifyOptions(
                    [.. keys.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(VerifierKey.Parse)],
                    TrustFile.Parse(trust, "trust"),
                    held.Length == 0 ? null : held
                )
            )
        );

    private static string FirstWrong(Answer answer) =>
        answer.Steps.FirstOrDefault(s => s.Contains(" WRONG ", StringComparison.Ordinal))?.Split(' ')[0] ?? "";

    private static string Zip(string packet) => Path.Combine(JavaScript.Vectors, "packets", packet + ".zip");

    private static List<Entry> Index() =>
        JsonSerializer.Deserialize<List<Entry>>(
            File.ReadAllBytes(Path.Combine(JavaScript.Vectors, "index.json")),
            Written
        )!;

    private static async Task WriteAsync()
    {
        var path = Path.Combine(JavaScript.Vectors, "index.json");
        var entries = File.Exists(path) ? Index() : [];
        foreach (var made in await VectorList.MakeAsync())
        {
            if (!File.Exists(Zip(made.Packet)))
            {
                await File.WriteAllBytesAsync(Zip(made.Packet), made.Zip);
            }

            if (!entries.Exists(e => e.Name == made.Name))
            {
                var summary = Verify(made.Zip, made.Keys, made.Trust, made.Held).Summary;
                entries.Add(
                    new(made.Name, made.Packet, made.Keys, made.Trust, made.Held, made.Exit, made.Code, summary)
                );
            }
        }

        await File.WriteAllTextAsync(path, JsonSerializer.Serialize(entries, Written) + "\n");
    }
}
