using System.Net;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Web.Tests;

/// <summary>A PDF is uploaded: its words are offered, confirmed, and read by the client.</summary>
[Collection(OneServer.Name)]
public sealed class PdfOrderTests(RunningServer server)
{
    private static readonly string Art = Encoding.Latin1.GetString(
        PdfFiles.OnePage(
            "1 0 0 rg 60 20 80 30 re f BT /F 24 Tf 40 60 Td (Rowng Regatta) Tj ET",
            "/Resources << /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>"
        )
    );

    private async Task<Page> UploadedAsync(string title, params (string Name, string Value)[] more)
    {
        Programs.Run("gs", "--version");
        var fields = RunningServer.OrderFields(title);
        fields["Words"] = "";
        foreach (var (name, value) in more)
            fields[name] = value;
        var form = await server.Staff.GetAsync("/orders/new");
        return await server.Staff.PostAsync(form, fields, form: 1, file: ("Art", "club.pdf", Art));
    }

    [SkippableFact]
    public async Task Words_in_the_file_are_offered_and_the_client_reads_what_was_confirmed()
    {
        var made = await UploadedAsync("words of a pdf");
        Assert.Equal(HttpStatusCode.Redirect, made.Status);
        Assert.EndsWith("/words", made.Location!, StringComparison.Ordinal);
        var asked = await server.Staff.GetAsync(made.Location!);
        Assert.Equal("Are these the words?", asked.Title);
        Assert.Contains("1 line of text was found in club.pdf.", asked.Text, StringComparison.Ordinal);
        Assert.Contains(">Rowng Regatta</textarea>", asked.Text, StringComparison.Ordinal);
        var id = Guid.Parse(made.Location!.Split('/')[^2]);
        Assert.Equal(0, await server.ReadAsync(db => db.ProofVersions.CountAsync(v => v.OrderId == id)));

        var confirmed = await server.Staff.PostAsync(asked, new() { ["Words"] = "Rowing Regatta\n" }, form: 1);

        Assert.Equal($"/orders/{id}", confirmed.Location);
        var version = await server.FinishedAsync(id);
        var link = await server.SentLinkAsync(version);
        using var client = new Visitor(server);
        var opened = await client.GetAsync(link);
        var seen = await client.GetAsync(opened.Location!);
        Assert.Contains("Rowing Regatta", seen.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Rowng Regatta", seen.Text, StringComparison.Ordinal);
        Assert.Equal(
            "application/pdf",
            await server.ReadAsync(db =>
                db.OrderPrints.Where(p => p.OrderId == id).Select(p => p.ArtMediaType).FirstAsync()
            )
        );
    }

    [SkippableFact]
    public async Task Words_that_were_typed_are_not_asked_for_again()
    {
        var made = await UploadedAsync("typed words", ("Words", "Harbour Rowing"));

        Assert.Matches("^/orders/[0-9a-f-]{36}$", made.Location!);
    }

    [SkippableFact]
    public async Task A_page_that_is_not_there_is_named_beside_the_art()
    {
        var answer = await UploadedAsync("page seven", ("PdfPage", "7"));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Contains(
            "Page 7 was asked for; the pdf has 1 page. Ask for a page from 1 to 1.",
            answer.Text,
            StringComparison.Ordinal
        );
    }
}
