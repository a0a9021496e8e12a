using System.Collections.Concurrent;
using System.IO.Compression;
using System.Text;
using ProofDesk.Adapters.Codecs;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>Whatever is uploaded, the reader ends with art or with a reason a person understands, and nothing else happens.</summary>
public sealed class UploadStormTests(ITestOutputHelper output) : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-storm-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    // The long count of 10,000 goes through the server's form: UploadFloodTests.
    [SkippableFact]
    public async Task Every_malformed_upload_is_art_or_a_reason()
    {
        const int Files = 16;
        var made = new MalformedFiles(MalformedFiles.Honest(_folder));
        var decoder = new ArtDecoder(DecodeLimits.Default with { WallClock = TimeSpan.FromSeconds(20) });
        var answers = new ConcurrentDictionary<string, int>(StringComparer.Ordinal);
        var wrong = new ConcurrentBag<string>();
        await Parallel.ForEachAsync(
            Enumerable.Range(0, Files),
            new ParallelOptions { MaxDegreeOfParallelism = 2 },
            async (number, cancel) =>
            {
                var answer = await AnswerAsync(decoder, made.Make(number), wrong, $"{number}", cancel);
                answers.AddOrUpdate(answer, 1, (_, n) => n + 1);
            }
        );

        output.WriteLine(
            $"{Files} files ({MalformedFiles.Sources}): {string.Join(", ", answers.OrderByDescending(a => a.Value).Select(a => $"{a.Value} {a.Key}"))}"
        );
        Assert.Empty(wrong);
        Assert.True(answers.Keys.Any(answer => answer != "art"), "nothing was refused: these files are not malformed");
    }

    [SkippableFact]
    public async Task Every_listed_bomb_is_refused_with_its_reason()
    {
        var wrong = new ConcurrentBag<string>();
        var decoder = new ArtDecoder(DecodeLimits.Default with { WallClock = TimeSpan.FromSeconds(20) });
        foreach (var (name, file) in Bombs())
        {
            var begun = System.Diagnostics.Stopwatch.StartNew();
            var answer = await AnswerAsync(decoder, file, wrong, name, CancellationToken.None);
            output.WriteLine($"{begun.Elapsed.TotalSeconds, 6:0.0} s  {name}: {answer}");
            // Loops of an SVG are cut by its reader: what is left is drawn, and that is no harm.
            Assert.True(answer != "art" || name.StartsWith("svg", StringComparison.Ordinal), $"{name} was read as art");
        }
        Assert.Empty(wrong);
    }

    private static async Task<string> AnswerAsync(
        ArtDecoder decoder,
        byte[] file,
        ConcurrentBag<string> wrong,
        string name,
        CancellationToken cancel
    )
    {
        try
        {
            await decoder.DecodeAsync(new MemoryStream(file), 100, cancel);
            return "art";
        }
        catch (UnreadableArt reason)
        {
            if (reason.What.Length < 10 || reason.NextStep.Length < 10 || reason.Code.Length == 0)
            {
                wrong.Add($"{name}: the reason says nothing: {reason.What}");
            }
            return reason.Code;
        }
        catch (Exception crash) when (crash is not OperationCanceledException)
        {
            wrong.Add($"{name}: {crash.GetType().Name} {crash.Message}");
            return "crash";
        }
    }

    private static IEnumerable<(string Name, byte[] File)> Bombs()
    {
        yield return ("png of 50,000 x 50,000", BrokenFiles.Png(50_000, 50_000));
        yield return ("png of 2^31-1 x 1", BrokenFiles.Png(int.MaxValue, 1));
        yield return ("png of negative size", BrokenFiles.Png(-5, -5));
        yield return ("png packed 4000 to 1", BrokenFiles.Png(9_000, 9_000));
        yield return (
            "png with a profile of 30 MB",
            BrokenFiles.Png(20, 20, 8, 2, ("iCCP", [.. "p\0\0"u8, .. BrokenFiles.Deflated(new byte[30_000_000])]))
        );
        yield return ("tiff whose directory points at itself", TiffLoop());
        yield return ("tiff of 10,000 directories", TiffChain(10_000));
        yield return ("svg of a billion laughs", Laughs());
        yield return (
            "svg that uses itself",
            Text(
                "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' width='9' height='9'><g id='a'><use xlink:href='#a'/><use xlink:href='#a'/></g></svg>"
            )
        );
        yield return (
            "svg with an entity of a file",
            Text(
                "<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]><svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><text>&x;</text></svg>"
            )
        );
        yield return (
            "svg nested 100,000 deep",
            Text(
                "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'>"
                    + string.Concat(Enumerable.Repeat("<g>", 100_000))
                    + "</svg>"
            )
        );
        yield return ("zip of zeros", ZipOfZeros());
        yield return (
            "pdf whose pages are their own parent",
            Text(
                "%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[2 0 R]/Count 1>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF"
            )
        );
    }

    private static byte[] Laughs()
    {
        var dtd = new StringBuilder("<!DOCTYPE svg [<!ENTITY a0 'ha'>");
        for (var i = 1; i < 12; i++)
        {
            dtd.Append($"<!ENTITY a{i} '{string.Concat(Enumerable.Repeat($"&a{i - 1};", 10))}'>");
        }
        return Text($"{dtd}]><svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><text>&a11;</text></svg>");
    }

    private static byte[] TiffLoop() =>
        [.. "II"u8, 42, 0, 8, 0, 0, 0, 1, 0, 0, 1, 3, 0, 1, 0, 0, 0, 9, 0, 0, 0, 8, 0, 0, 0];

    private static byte[] TiffChain(int many)
    {
        using var file = new MemoryStream();
        file.Write([.. "II"u8, 42, 0, 8, 0, 0, 0]);
        for (var i = 0; i < many; i++)
        {
            var next = i + 1 < many ? (int)file.Length + 18 : 0;
            file.Write([1, 0, 0, 1, 3, 0, 1, 0, 0, 0, 9, 0, 0, 0, .. BitConverter.GetBytes(next)]);
        }
        return file.ToArray();
    }

    private static byte[] ZipOfZeros()
    {
        using var file = new MemoryStream();
        using (var zip = new ZipArchive(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var entry = zip.CreateEntry("art.png", CompressionLevel.Fastest).Open();
            entry.Write(new byte[50_000_000]);
        }
        return file.ToArray();
    }

    private static byte[] Text(string text) => Encoding.UTF8.GetBytes(text);
}
