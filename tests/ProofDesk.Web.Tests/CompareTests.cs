using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Web.Compare;
using ProofDesk.Web.Rates;

namespace ProofDesk.Web.Tests;

/// <summary>Compare sheets: real proofs in cells, links that show them, preferences that are nothing more.</summary>
[Collection(OneServer.Name)]
public sealed class CompareTests(RunningServer server)
{
    [Fact]
    public async Task An_uploaded_art_becomes_real_proofs_and_says_in_words_what_a_method_cannot()
    {
        var form = await server.Staff.GetAsync("/compare/new");
        var sent = await server.Staff.SendAsync(
            new HttpRequestMessage(HttpMethod.Post, "/compare")
            {
                Content = Filled(
                    form,
                    [
                        ("Title", "Mark in two ways"),
                        ("WidthMm", "40"),
                        ("Quantity", "48"),
                        ("Place", "LeftChest"),
                        ("Methods", "plastisol"),
                        ("Methods", "sublimation"),
                        ("Inks", "auto"),
                        ("Grounds", "tee/black"),
                    ],
                    RunningServer.SmallMark
                ),
            }
        );
        Assert.True(sent.Status == HttpStatusCode.Redirect, sent.Text);
        var sheetId = Guid.Parse(sent.Location!.Split('/')[^1]);

        var cells = await FinishedAsync(sheetId);
        var page = await server.Staff.GetAsync($"/compare/{sheetId}");

        Assert.Equal([CellState.Done, CellState.Cannot], cells.Select(c => c.State));
        var facts = CellCard.Of(cells[0])!;
        // Red, blue and the base under them; a flash and an empty head to cool.
        Assert.Equal(3, facts.Facts.Screens);
        Assert.Equal("5 of 10", facts.Facts.HeadsWords);
        Assert.Equal(0.55, facts.Facts.DetailMm!.Value, 1e-9);
        Assert.Equal(300, facts.Facts.FilmDpi);
        // Another test of this server may have written a card.
        var rates = await server.Service<ShopRates>().HistoryAsync() is [var newest, ..]
            ? $"{newest.Card.Name}, version {newest.Row.Version}"
            : "common practice; the money is an example";
        Assert.Equal((48, rates), (facts.Cost.Pieces, facts.Cost.Card));
        Assert.Contains("each for 48 pieces", page.Text);
        Assert.Contains("Screen print, plastisol", page.Text);
        Assert.Contains("polyester", cells[1].Error);
        Assert.Contains(WebUtility.HtmlEncode(cells[1].Error!.Split('\n')[0]), page.Text);
        foreach (var picture in new[] { "print", "garment" })
        {
            var png = await server.Staff.GetAsync($"/compare/{sheetId}/cells/{cells[0].Id}/w200/{picture}.png");
            Assert.Equal((HttpStatusCode.OK, "image/png"), (png.Status, png.Headers["Content-Type"]));
            var none = await server.Staff.GetAsync($"/compare/{sheetId}/cells/{cells[1].Id}/w200/{picture}.png");
            Assert.Equal(HttpStatusCode.NotFound, none.Status);
        }
        // Not the bytes of an order's proof, but made by the same steps: no version, no log leaf.
        Assert.Equal(
            0,
            await server.ReadAsync(db => db.ProofVersions.CountAsync(v => v.RequestJson.Contains("Mark in two ways")))
        );
    }

    [SkippableFact]
    public async Task A_sheet_is_taken_away_as_one_picture_and_as_pages()
    {
        var sheet = await SheetAsync();

        var png = await server.Staff.GetAsync($"/compare/{sheet.Id}/sheet.png");
        var pdf = await server.Staff.GetAsync($"/compare/{sheet.Id}/sheet.pdf");

        Assert.Equal((HttpStatusCode.OK, "image/png"), (png.Status, png.Headers["Content-Type"]));
        Assert.Equal((HttpStatusCode.OK, "application/pdf"), (pdf.Status, pdf.Headers["Content-Type"]));
        using var picture = NetVips.Image.NewFromBuffer(png.Bytes);
        Assert.InRange(picture.Width, 800, 1000);
        Assert.InRange(picture.Height, 500, 1500);
        var file = Path.Combine(Path.GetTempPath(), $"proofdesk-sheet-{Guid.NewGuid():N}.pdf");
        await File.WriteAllBytesAsync(file, pdf.Bytes);
        try
        {
            var words = Programs.Run("pdftotext", "-layout", file, "-");
            Assert.Contains("Pages:           1", Programs.Run("pdfinfo", file));
            Assert.Contains("Regatta, methods", words);
            Assert.Contains("Screen print, plastisol", words);
            Assert.Contains("Inks: 2: Red, Blue", words);
            Assert.Contains("Heads: 2 of 10", words);
            Assert.Contains("Cost: 6.50 EUR each for 48 pieces", words);
            Assert.Contains("the cloth holds no polyester; take another", words);
            Assert.Contains("A preference marked on this sheet is no approval.", words.ReplaceLineEndings(" "));
            // One finished cell, one picture, as JPEG of 90 x 60 pixels; the type is Inter and in the file.
            var pictures = Programs.Run("pdfimages", "-list", file).Split('\n', StringSplitOptions.RemoveEmptyEntries);
            Assert.Matches("image +90 +60 +rgb +3 +8 +jpeg", Assert.Single(pictures[2..]));
            // The column "emb".
            Assert.Matches(@"\+Inter Regular +TrueType +\S+ +yes", Programs.Run("pdffonts", file));
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Fact]
    public async Task An_order_begins_a_sheet_with_its_own_garments_and_a_cell_leads_back_into_its_form()
    {
        var version = await server.RenderedVersionAsync("to compare");
        var order = (await server.OrderOfAsync(version)).Id;

        var shown = await server.Staff.GetAsync($"/orders/{order}");
        var form = await server.Staff.GetAsync($"/compare/new?order={order}");
        var edit = await server.Staff.GetAsync($"/orders/{order}/edit?method=discharge&colours=2");

        Assert.Contains($"/compare/new?order={order}", shown.Text);
        Assert.Contains("value=\"to compare, left chest\"", form.Text);
        Assert.Matches("value=\"tee/white\" checked", form.Text);
        Assert.Matches("value=\"discharge\" checked", edit.Text);
        Assert.Matches("name=\"InkCount\"[^>]* value=\"2\"", edit.Text);
        Assert.Equal(
            HttpStatusCode.NotFound,
            (await server.Staff.GetAsync($"/compare/new?order={Guid.NewGuid()}")).Status
        );
    }

    [Fact]
    public async Task What_broke_is_tried_again_and_what_cannot_be_is_left()
    {
        var sheet = await SheetAsync();
        await using (var db = server.Service<Office>().Open())
            await db
                .SheetCells.Where(c => c.Id == sheet.Cells[0].Id)
                .ExecuteUpdateAsync(set =>
                    set.SetProperty(c => c.State, CellState.Failed).SetProperty(c => c.Error, "the disk was full")
                );
        var broken = await server.Staff.GetAsync($"/compare/{sheet.Id}");
        var at = broken.Forms.FindIndex(f => f.Action.EndsWith("/retries", StringComparison.Ordinal));

        var again = await server.Staff.PostAsync(broken, form: at);

        Assert.Contains("It broke 5 times; the last time it said: the disk was full", broken.Text);
        Assert.Equal(HttpStatusCode.Redirect, again.Status);
        // Its art is no picture the decoder reads, so the queue has taken it and says why it cannot be.
        var cells = await FinishedAsync(sheet.Id);
        Assert.NotEqual(CellState.Failed, cells[0].State);
        Assert.True(cells[0].Attempts > 0);
        Assert.Equal((CellState.Cannot, 0), (cells[1].State, cells[1].Attempts));
    }

    [Fact]
    public async Task A_link_shows_the_sheet_and_takes_one_preference_that_approves_nothing()
    {
        var sheet = await SheetAsync();
        var link = await LinkAsync(sheet.Id);
        using var visitor = server.NewVisitor();
        var opened = await visitor.GetAsync(link);
        var before = await server.CountsAsync();

        var page = await visitor.GetAsync(opened.Location!);
        var nothing = await visitor.PostAsync(page, new() { ["Name"] = "Kim Reed" });
        var said = await visitor.PostAsync(
            page,
            new()
            {
                ["Cell"] = sheet.Cells[0].Id.ToString(),
                ["Name"] = "Kim Reed",
                ["Words"] = "the red is ours",
            }
        );
        var thanks = await visitor.GetAsync(opened.Location!);
        var changed = await visitor.PostAsync(
            thanks,
            new()
            {
                ["Cell"] = sheet.Cells[0].Id.ToString(),
                ["Name"] = "Kim Reed",
                ["Words"] = "on second thoughts: still this",
            }
        );
        var desk = await server.Staff.GetAsync($"/compare/{sheet.Id}");

        Assert.Equal(HttpStatusCode.SeeOther, opened.Status);
        Assert.Equal("no-store", page.Headers["Cache-Control"]);
        Assert.Equal("noindex, nofollow", page.Headers["X-Robots-Tag"]);
        Assert.Contains("A preference is not an approval: nothing is ordered, printed or agreed by it.", page.Text);
        Assert.Contains("I like this one best", page.Text);
        // What a piece costs the shop is not the client's to read.
        Assert.DoesNotContain("each for 48 pieces", page.Text);
        Assert.DoesNotContain("/approve", page.Text);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, nothing.Status);
        Assert.Contains("Mark the one you like best.", nothing.Text);
        Assert.Equal((HttpStatusCode.Redirect, HttpStatusCode.Redirect), (said.Status, changed.Status));
        Assert.Contains("Kim Reed likes best: Screen print, plastisol on ", thanks.Text);
        Assert.Contains("on second thoughts: still this", desk.Text);
        Assert.DoesNotContain("the red is ours", desk.Text);
        Assert.Contains("Nobody has approved anything by this", desk.Text);
        Assert.Equal(before, await server.CountsAsync());
        Assert.Equal(1, await server.ReadAsync(db => db.SheetPreferences.CountAsync(p => p.SheetId == sheet.Id)));
    }

    [Fact]
    public async Task A_link_called_back_or_over_is_gone_at_once_with_its_pictures()
    {
        var sheet = await SheetAsync();
        var link = await LinkAsync(sheet.Id);
        using var visitor = server.NewVisitor();
        var here = (await visitor.GetAsync(link)).Location!;
        var page = await visitor.GetAsync(here);
        var picture = $"{here}/cells/{sheet.Cells[0].Id}/w64/print.png";
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync(picture)).Status);
        var desk = await server.Staff.GetAsync($"/compare/{sheet.Id}");
        var at = desk.Forms.FindIndex(f => f.Action.EndsWith("/revocation", StringComparison.Ordinal));

        await server.Staff.PostAsync(desk, form: at);
        var again = await visitor.GetAsync(here);
        var opened = await visitor.GetAsync(link);
        var word = await visitor.PostAsync(
            page,
            new() { ["Cell"] = sheet.Cells[0].Id.ToString(), ["Name"] = "Kim Reed" }
        );
        var second = await LinkAsync(sheet.Id);
        await using (var db = server.Service<Office>().Open())
            await db
                .SheetLinks.Where(l => l.SheetId == sheet.Id)
                .ExecuteUpdateAsync(set => set.SetProperty(l => l.ExpiresAt, DateTimeOffset.UnixEpoch));
        var over = await visitor.GetAsync(second);

        foreach (var gone in new[] { again, opened, word, over })
            Assert.Equal((HttpStatusCode.Gone, "This link is no longer in use"), (gone.Status, gone.Title));
        Assert.Contains("We have called it back. Ask us for a new one.", again.Text);
        Assert.Contains("Its time is over. Ask us for a new one.", over.Text);
        Assert.Equal(HttpStatusCode.NotFound, (await visitor.GetAsync(picture)).Status);
        Assert.Equal(0, await server.ReadAsync(db => db.SheetPreferences.CountAsync(p => p.SheetId == sheet.Id)));
    }

    [Fact]
    public async Task A_made_up_link_finds_nothing_a_cut_one_is_called_incomplete_and_the_token_is_kept_nowhere()
    {
        var sheet = await SheetAsync();
        var link = await LinkAsync(sheet.Id);
        using var stranger = server.NewVisitor();

        var made = await stranger.GetAsync("/c/" + LinkToken.New());
        var cut = await stranger.GetAsync(link[..^5]);
        var kept = await server.ReadAsync(db => db.SheetLinks.SingleAsync(l => l.SheetId == sheet.Id));
        var closed = await stranger.GetAsync($"/compared/{kept.Id}");

        Assert.Equal((HttpStatusCode.NotFound, "Nothing here"), (made.Status, made.Title));
        Assert.Equal((HttpStatusCode.NotFound, "This link is incomplete"), (cut.Status, cut.Title));
        Assert.Equal((HttpStatusCode.NotFound, "Open your link again"), (closed.Status, closed.Title));
        Assert.Equal(LinkToken.DigestOf(link["/c/".Length..]), kept.TokenSha256);
        Assert.Equal("GET /c/... 200", Security.LinkTokens.Redact($"GET {link} 200"));
        Assert.DoesNotContain(link["/c/".Length..], (await server.Staff.GetAsync($"/compare/{sheet.Id}")).Text);
    }

    [Fact]
    public async Task Too_many_cells_are_refused_with_the_number()
    {
        var form = await server.Staff.GetAsync("/compare/new");
        List<(string, string)> fields =
        [
            ("Title", "everything"),
            ("WidthMm", "40"),
            ("Quantity", "1"),
            ("Place", "Front"),
        ];
        fields.AddRange(Printing.Methods.PrintMethods.All.Select(m => ("Methods", m.Id)));
        fields.AddRange(CompareForm.Counts.Select(n => ("Inks", $"{n}")));
        fields.AddRange([("Grounds", "tee/black"), ("Grounds", "tee/white")]);

        var refused = await server.Staff.SendAsync(
            new HttpRequestMessage(HttpMethod.Post, "/compare")
            {
                Content = Filled(form, fields, RunningServer.SmallMark),
            }
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("; a sheet has at most 120. Untick some.", refused.Text);
    }

    private async Task<CompareSheet> SheetAsync()
    {
        var png = Adapters.Codecs.PictureWriter.Png(new Imaging.Rasters.RgbPicture(90, 60, 2));
        var blob = await server.Service<IFileStore>().PutAsync(new MemoryStream(png));
        var sheet = CompareSheets.Of(null, blob.Sha256);
        await server.Service<SheetBook>().AddAsync(sheet, "test");
        return sheet;
    }

    private async Task<string> LinkAsync(Guid sheetId)
    {
        var desk = await server.Staff.GetAsync($"/compare/{sheetId}");
        var at = desk.Forms.FindIndex(f => f.Action.EndsWith("/links", StringComparison.Ordinal));
        var given = await server.Staff.PostAsync(desk, new() { ["ForWhom"] = "the crew", ["Days"] = "14" }, at);
        Assert.Equal(HttpStatusCode.OK, given.Status);
        return Regex.Match(given.Text, "/c/[A-Za-z0-9_-]{47}").Value;
    }

    private async Task<List<SheetCell>> FinishedAsync(Guid sheetId)
    {
        for (var tries = 0; tries < 3000; tries++)
        {
            var cells = await server.ReadAsync(db =>
                db.SheetCells.AsNoTracking().Where(c => c.SheetId == sheetId).OrderBy(c => c.Position).ToListAsync()
            );
            if (cells.TrueForAll(c => c.State is not (CellState.Ready or CellState.Running)))
                return cells;
            await Task.Delay(200);
        }
        throw new TimeoutException("the sheet did not finish in ten minutes");
    }

    private static MultipartFormDataContent Filled(Page form, List<(string Name, string Value)> fields, string art)
    {
        var parts = new MultipartFormDataContent();
        foreach (var (name, value) in form.Forms.First(f => f.Action == "/compare").Hidden)
            parts.Add(new StringContent(value), name);
        foreach (var (name, value) in fields)
            parts.Add(new StringContent(value), name);
        parts.Add(new ByteArrayContent(System.Text.Encoding.UTF8.GetBytes(art)), "Art", "mark.svg");
        return parts;
    }
}
