using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Tests.Codecs;
using Xunit.Abstractions;

namespace ProofDesk.Web.Tests.Uploads;

/// <summary>
/// 10,000 malformed files through the order form of a running server: the server lives, every answer is the form again with a reason,
/// nothing is left over. With PROOFDESK_LONG=1; the usual run has sixteen of them and the listed bombs in UploadStormTests.
/// </summary>
public sealed partial class UploadFloodTests(ITestOutputHelper output)
{
    private static readonly int Files = LongCounts.Of(10_000);
    private const int AtOnce = 4;

    private static readonly string[] Names =
    [
        "mark.png",
        "../../etc/passwd",
        "..\\..\\proofdesk.db",
        "a\"b\r\nX-Injected: 1.svg",
        "<script>alert(1)</script>.svg",
        new string('n', 300) + ".tif",
        "\u202egnp.exe",
        ".",
    ];

    [SkippableFact]
    public async Task Ten_thousand_malformed_uploads_are_each_answered_with_a_reason()
    {
        Skip.IfNot(LongCounts.Asked, "10,000 uploads: PROOFDESK_LONG=1");
        var folder = Directory.CreateTempSubdirectory("proofdesk-flood-").FullName;
        var made = new MalformedFiles(MalformedFiles.Honest(folder));
        var server = new QuickReader();
        await server.InitializeAsync();
        var token = (await server.Staff.GetAsync("/orders/new")).Forms[1].Hidden;
        var answers = new ConcurrentDictionary<string, int>(StringComparer.Ordinal);
        var begun = Stopwatch.StartNew();
        var before = Process.GetCurrentProcess().WorkingSet64;
        await Parallel.ForEachAsync(
            Enumerable.Range(0, Files),
            new ParallelOptions { MaxDegreeOfParallelism = AtOnce },
            async (number, _) =>
            {
                var answer = await AnswerAsync(server, token, made.Make(number), Names[number % Names.Length]);
                answers.AddOrUpdate(answer, 1, (_, n) => n + 1);
            }
        );

        output.WriteLine(
            $"{Files} uploads ({MalformedFiles.Sources}) in {begun.Elapsed.TotalMinutes:0.0} min; memory of the server {before >> 20} MB before, {Process.GetCurrentProcess().WorkingSet64 >> 20} MB after"
        );
        foreach (var (answer, times) in answers.OrderByDescending(pair => pair.Value))
            output.WriteLine($"{times, 6} {answer}");
        Assert.All(answers.Keys, answer => Assert.StartsWith("422 ", answer, StringComparison.Ordinal));
        Assert.True(answers.Count > 5, "few reasons: these files are all malformed alike");
        var data = server.Service<DataFolder>();
        Assert.Empty(Directory.GetFiles(Path.Combine(data.Blobs, "tmp")));
        Assert.Equal("ready\n", (await server.Staff.GetAsync("/ready")).Text);
        Assert.DoesNotContain(Process.GetProcesses(), IsReaderOfOurs);
        await server.DisposeAsync();
        Directory.Delete(folder, recursive: true);
    }

    private static async Task<string> AnswerAsync(
        QuickReader server,
        Dictionary<string, string> token,
        byte[] file,
        string name
    )
    {
        using var form = new MultipartFormDataContent();
        foreach (var (field, value) in token)
            form.Add(new StringContent(value), field);
        // No title: also good art ends at the form, and no order is made of it.
        foreach (var (field, value) in RunningServer.OrderFields(""))
            form.Add(new StringContent(value), field);
        var art = new ByteArrayContent(file);
        art.Headers.TryAddWithoutValidation(
            "Content-Disposition",
            $"form-data; name=Art; filename=\"{Uri.EscapeDataString(name)}\""
        );
        form.Add(art);
        var page = await server.Staff.SendAsync(new HttpRequestMessage(HttpMethod.Post, "/orders") { Content = form });
        var reason = Reason().Match(page.Text);
        return (page.Status, reason.Success) switch
        {
            (HttpStatusCode.UnprocessableEntity, true) =>
                $"422 {Number().Replace(WebUtility.HtmlDecode(reason.Groups[1].Value), "N")}",
            (HttpStatusCode.UnprocessableEntity, false) => "422 good enough to be read as art; the form lacks a title",
            var (status, _) => $"{(int)status} {page.Title}",
        };
    }

    private static bool IsReaderOfOurs(Process process)
    {
        try
        {
            return File.ReadAllText($"/proc/{process.Id}/cmdline").Contains(DecodeWorker.Verb, StringComparison.Ordinal)
                && File.ReadAllText($"/proc/{process.Id}/cmdline")
                    .Contains(QuickPrograms.Folder ?? AppContext.BaseDirectory, StringComparison.Ordinal);
        }
        catch (IOException)
        {
            return false;
        }
    }

    [GeneratedRegex("<a href=\"#Art\">(.*?)</a>", RegexOptions.Singleline)]
    private static partial Regex Reason();

    [GeneratedRegex("[0-9][0-9,.]*")]
    private static partial Regex Number();

    private sealed class QuickReader : RunningServer
    {
        protected override void Replace(IServiceCollection services)
        {
            if (QuickPrograms.Folder is { } folder)
                services.AddSingleton(new ArtDecoder(workerFolder: folder));
        }
    }
}
