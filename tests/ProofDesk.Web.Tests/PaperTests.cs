using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Screening;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Tests;

/// <summary>What leaves the shop's printer: press tickets and counterfoils, read back by other programs.</summary>
[Collection(OneServer.Name)]
public sealed class PaperTests(RunningServer server) : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("proofdesk-paper-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [SkippableFact]
    public async Task A_ticket_says_not_released_until_the_version_is_approved_and_both_papers_are_one_page_each()
    {
        var (client, review, version) = await server.InvitedClientAsync("ticket");
        var order = await server.OrderOfAsync(version);
        var page = $"/versions/{version}/ticket";
        var summary = (await ReadAsync(version)).Summary.Prints[0];

        var before = await server.Staff.GetAsync(page);
        var early = await PdfAsync(page + ".pdf", "early");
        var letter = await PdfAsync(page + ".pdf?paper=Letter", "letter");
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var approved = await server.Staff.GetAsync(page);
        var released = await PdfAsync(page + ".pdf", "released");
        await PostAsync($"/versions/{version}/production", "/finished", new() { ["Good"] = "11", ["Spoilt"] = "1" });
        var again = await server.Staff.PostAsync(
            await server.Staff.GetAsync($"/versions/{version}/reorder"),
            new() { ["Title"] = "ticket again", ["Counts[0]"] = "30" },
            form: 1
        );
        var repeated = await server.FinishedAsync(Guid.Parse(again.Location!.Split('/')[^1]));
        var reordered = Text(await PdfAsync($"/versions/{repeated}/ticket.pdf", "reordered"));

        Assert.Matches(@"Pages:\s+1\n", Programs.Run("pdfinfo", early));
        Assert.Matches(@"Page size:\s+595\.\d+ x 841\.\d+ pts \(A4\)", Programs.Run("pdfinfo", early));
        Assert.Matches(@"Pages:\s+1\n", Programs.Run("pdfinfo", letter));
        Assert.Matches(@"Page size:\s+612 x 792 pts \(letter\)", Programs.Run("pdfinfo", letter));
        var code = new FilmCode(
            $"{order.Number}",
            summary.Name,
            "1",
            1,
            FilmCode.ShortOf(summary.Plates[0].Sha256)
        ).Text;
        Assert.Equal((code, code), (Square(early), Square(letter)));
        Assert.StartsWith(
            "Version 1, approved by Kim Reed",
            (await server.Staff.GetAsync($"/scan?code={Uri.EscapeDataString(code)}")).Title
        );
        Assert.Contains("NOT RELEASED", before.Text);
        Assert.DoesNotContain("NOT RELEASED", approved.Text);
        Assert.Contains("Released. Approved by Kim Reed, ", approved.Text);
        var text = Text(early);
        Assert.Contains("NOT RELEASED", text);
        Assert.Contains(
            "Version 1 is not approved. Films leave when the client has said yes to what they print.",
            text
        );
        foreach (
            var wanted in new[]
            {
                $"{order.Number} ticket",
                "85 mm (3.35 in)",
                "105 mm (4.13 in) to the wearer's left",
                "40 mm (1.57 in) wide",
                "Mesh used",
                "M 12 = 12",
            }
        )
            Assert.Contains(wanted, text);
        foreach (var plate in summary.Plates)
            Assert.Contains(plate.Ink, text);
        Assert.DoesNotContain("NOT RELEASED", Text(released));
        Assert.Matches(@"30\s+11\s+1\b", reordered);
        Assert.Contains("when these films were on the press before", reordered);
        Assert.Contains("NOT RELEASED", reordered);
        await CounterfoilAsync(version);
        client.Dispose();
    }

    /// <summary>One page that names who, what and when, and holds the checkpoint.</summary>
    private async Task CounterfoilAsync(Guid version)
    {
        var decision = await server.ReadAsync(db => db.Decisions.SingleAsync(d => d.VersionId == version));
        var id = decision.Id;

        var pdf = await PdfAsync($"/records/{id}/counterfoil.pdf", "counterfoil");
        var letter = await PdfAsync($"/records/{id}/counterfoil.pdf?paper=letter", "counterfoil-letter");
        var page = await server.Staff.GetAsync($"/records/{id}");

        Assert.Matches(@"Pages:\s+1\n", Programs.Run("pdfinfo", pdf));
        Assert.Matches(@"Pages:\s+1\n", Programs.Run("pdfinfo", letter));
        // In the order of drawing, so that the two halves do not mix.
        var text = Regex.Replace(Programs.Run("pdftotext", "-raw", pdf, "-"), @"\s+", " ");
        foreach (
            var wanted in new[]
            {
                "Kim Reed approved",
                "kim@harbour-rowing.example",
                "This decision stands.",
                "E0: whoever held the mailed link",
                Layout.Words.Moment(decision.At),
                Regex.Replace(decision.StatementText, @"\s+", " ").Trim(),
            }
        )
            Assert.Contains(wanted, text);
        // Groups of four; the column breaks the line where it likes.
        var digits = text.Replace(" ", "", StringComparison.Ordinal);
        Assert.Contains(decision.ManifestSha256, digits);
        Assert.Contains(decision.StatementSha256, digits);
        var shown = WebUtility.HtmlDecode(
            Regex.Match(page.Text, "<pre class=\"letter digest\">(.*?)</pre>", RegexOptions.Singleline).Groups[1].Value
        );
        // Readers differ about the dash before each signature.
        Assert.Equal(Plain(shown), Plain(Square(pdf)));
    }

    [Fact]
    public void The_tape_of_a_left_chest_print_starts_at_the_collar_and_runs_to_its_upper_edge()
    {
        var tee = server.Service<Garments>().All.First(g => g.Id == "tee");

        var drawing = TapeDrawing.Of(tee, "L", new Placement(Place.LeftChest, 85, 105, 80), 60)!;

        Assert.Equal(85, drawing.FromSeam.To.Y - drawing.FromSeam.From.Y, 0.001);
        Assert.Equal(105, drawing.FromCentre!.Mm);
        // The wearer's left is on the right of a front seen from outside.
        Assert.Equal(
            (drawing.FromSeam.From.X + 65, drawing.FromSeam.From.Y + 85),
            (Math.Round(drawing.Ink[0].X, 6), Math.Round(drawing.Ink[0].Y, 6))
        );
        Assert.Equal(80, drawing.Ink[1].X - drawing.Ink[0].X, 0.001);
        Assert.Equal(60, drawing.Ink[3].Y - drawing.Ink[0].Y, 0.001);
        var (left, _, right, bottom) = drawing.Frame;
        Assert.InRange(right - left, 600, 1200);
        Assert.InRange(bottom, 600, 900);
    }

    private static string Plain(string note) =>
        Regex.Replace(note.ReplaceLineEndings("\n").Trim(), @"[^\x20-\x7e\n]+", "?");

    private async Task<ReadVersion> ReadAsync(Guid version)
    {
        await using var scope = server.App.Services.CreateAsyncScope();
        return (await scope.ServiceProvider.GetRequiredService<VersionReader>().FindAsync(version, default))!;
    }

    private async Task PostAsync(string page, string form, Dictionary<string, string> fields)
    {
        var shown = await server.Staff.GetAsync(page);
        var at = shown.Forms.FindIndex(f => f.Action.EndsWith(form, StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.Redirect, (await server.Staff.PostAsync(shown, fields, at)).Status);
    }

    /// <summary>Kept as a file that Ghostscript and qpdf read without a word.</summary>
    private async Task<string> PdfAsync(string address, string name)
    {
        var answer = await server.Staff.GetAsync(address);
        Assert.Equal((HttpStatusCode.OK, "application/pdf"), (answer.Status, answer.Headers["Content-Type"]));
        var path = Path.Combine(folder, name + ".pdf");
        await File.WriteAllBytesAsync(path, answer.Bytes);
        Assert.Equal("", Programs.Run("sh", "-c", $"gs -q -dSAFER -dNOPAUSE -dBATCH -sDEVICE=nullpage '{path}' 2>&1"));
        Programs.Run("qpdf", "--check", path);
        if (Environment.GetEnvironmentVariable("PROOFDESK_PICTURES") is { } pictures)
            File.Copy(path, Path.Combine(pictures, name + ".pdf"), overwrite: true);
        return path;
    }

    private static string Text(string pdf) => Programs.Run("pdftotext", "-layout", pdf, "-");

    private static string Square(string pdf)
    {
        var png = Path.ChangeExtension(pdf, null);
        Programs.Run("pdftoppm", "-png", "-r", "200", "-singlefile", pdf, png);
        return Programs.Run("zbarimg", "-q", "--raw", png + ".png").TrimEnd('\n');
    }
}
