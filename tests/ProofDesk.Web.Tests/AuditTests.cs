using System.Net;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Audit;

namespace ProofDesk.Web.Tests;

/// <summary>The log as owners and auditors read it.</summary>
[Collection(OneServer.Name)]
public sealed class AuditTests(RunningServer server)
{
    [Fact]
    public async Task Owner_and_auditor_read_what_happened_to_an_order_newest_first_and_others_find_nothing()
    {
        var (client, review, version) = await server.InvitedClientAsync("audited");
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var order = await server.OrderOfAsync(version);
        var films = await server.Staff.GetAsync($"/versions/{version}/films");
        await server.Staff.PostAsync(films, form: films.Forms.FindIndex(f => f.Action == $"/versions/{version}/films"));
        var decision = await server.ReadAsync(db => db.Decisions.SingleAsync(d => d.VersionId == version));
        var (auditor, _, _) = await server.ColleagueAsync(StaffRole.Auditor);
        var (staff, _, _) = await server.ColleagueAsync(StaffRole.Staff);

        var page = await auditor.GetAsync($"/audit?order={order.Number}");
        Assert.Equal(HttpStatusCode.OK, page.Status);
        foreach (var path in new[] { "/audit", "/audit.csv", "/audit.jsonl" })
            Assert.Equal(HttpStatusCode.NotFound, (await staff.GetAsync(path)).Status);

        var rows = await RowsAsync(auditor, $"?order={order.Number}");
        Assert.Equal(["films-exported", "decision-approve", "version-frozen"], rows.ConvertAll(row => row.Kind));
        Assert.Equal(["Ada (owner@lindhag.example)", "Kim Reed", "the house"], rows.ConvertAll(row => row.Who));
        Assert.Equal(decision.LeafIndex, rows[1].LogIndex);
        Assert.Equal($"/records/{decision.Id}", rows[1].Record);
        Assert.Contains($"<a href=\"/records/{decision.Id}\">", page.Text);
        Assert.Contains("films taken", page.Text);

        Assert.Equal(
            ["decision-approve"],
            (await RowsAsync(auditor, $"?order={order.Number}&who=Kim")).ConvertAll(row => row.Kind)
        );
        Assert.Equal(
            ["films-exported"],
            (await RowsAsync(auditor, $"?order={order.Number}&who=Ada")).ConvertAll(row => row.Kind)
        );
        Assert.Equal(
            ["version-frozen"],
            (await RowsAsync(auditor, $"?order={order.Number}&kind=version-frozen")).ConvertAll(row => row.Kind)
        );
        var today = DateOnly.FromDateTime(DateTime.UtcNow);
        Assert.Equal(3, (await RowsAsync(auditor, $"?order={order.Number}&from={today.AddDays(-1):yyyy-MM-dd}")).Count);
        Assert.Empty(await RowsAsync(auditor, $"?order={order.Number}&to={today.AddDays(-2):yyyy-MM-dd}"));
        Assert.Empty(await RowsAsync(auditor, $"?order={order.Number}&kind=no-such-kind"));

        var receipt = await client.GetAsync(RunningServer.LinkIn(await server.LetterAsync(version, "receipt")));
        var disputed = await client.PostAsync(await client.GetAsync(receipt.Location!), new() { ["words"] = "not I" });
        Assert.Equal(HttpStatusCode.SeeOther, disputed.Status);
        Assert.Equal(
            "kim@harbour-rowing.example",
            (await RowsAsync(auditor, $"?order={order.Number}")).Single(row => row.Kind == "disputed").Who
        );
        await server
            .Service<PersonErasure>()
            .EraseAsync("kim@harbour-rowing.example", "owner@lindhag.example", "asked to");
        var erased = await RowsAsync(auditor, $"?order={order.Number}");
        Assert.Equal("(erased)", erased.Single(row => row.Kind == "decision-approve").Who);
        Assert.Equal("(erased)", erased.Single(row => row.Kind == "disputed").Who);
        Assert.Empty(await RowsAsync(auditor, $"?order={order.Number}&who=kim%40harbour&kind=disputed"));
        var after = (await auditor.GetAsync($"/audit?order={order.Number}")).Text;
        Assert.DoesNotContain("Kim Reed", after);
        Assert.DoesNotContain("kim@harbour-rowing.example", after);
        Assert.Contains("(erased)", (await auditor.GetAsync($"/records/{decision.Id}")).Text);
        Assert.Contains("by (erased): approved", (await auditor.GetAsync($"/versions/{version}")).Text);
        client.Dispose();
        auditor.Dispose();
        staff.Dispose();
    }

    [Fact]
    public async Task Pages_follow_one_another_without_a_gap_and_the_files_hold_everything()
    {
        var roles = server.Service<StaffRoles>();
        var (visitor, id, _) = await server.ColleagueAsync(StaffRole.Staff);
        visitor.Dispose();
        for (var turn = 0; turn < 26; turn++)
        {
            await roles.ChangeAsync(id, StaffRole.Designer, role => role.ToString(), "test");
            await roles.ChangeAsync(id, StaffRole.Staff, role => role.ToString(), "test");
        }
        var size = await server.ReadAsync(db => db.LogLeaves.LongCountAsync());

        var seen = new List<long>();
        for (var path = "/audit"; path.Length > 0; )
        {
            var page = await server.Staff.GetAsync(path);
            seen.AddRange(
                System
                    .Text.RegularExpressions.Regex.Matches(page.Text, "<td class=\"r\">(\\d+)</td>")
                    .Select(m => long.Parse(m.Groups[1].Value))
            );
            var older = System.Text.RegularExpressions.Regex.Match(page.Text, "href=\"(/audit\\?before=\\d+)\"");
            path = older.Success ? older.Groups[1].Value : "";
        }
        var csv = (await server.Staff.GetAsync("/audit.csv")).Text;

        Assert.True(size > AuditController.RowsOnPage);
        Assert.Equal(Enumerable.Range(0, (int)size).Reverse().Select(i => (long)i), seen);
        Assert.Equal(size, (await RowsAsync(server.Staff, "")).Count);
        Assert.StartsWith(AuditFiles.Head + $"{size - 1},", csv);
        Assert.DoesNotContain('\n', csv.Replace("\r\n", ""));
    }

    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("", "")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("  =1+1", "'  =1+1")]
    [InlineData("+49 1", "'+49 1")]
    [InlineData("-2", "'-2")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("\tx", "'\tx")]
    [InlineData("\r=x", "\"'\r=x\"")]
    [InlineData("\uff1dcmd", "'\uff1dcmd")]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"yes\"", "\"say \"\"yes\"\"\"")]
    [InlineData("two\nlines", "\"two\nlines\"")]
    [InlineData("=HYPERLINK(\"x\",1)", "\"'=HYPERLINK(\"\"x\"\",1)\"")]
    public void A_field_that_a_spreadsheet_would_run_is_defused_and_quoted_as_the_standard_says(
        string text,
        string field
    ) => Assert.Equal(field, AuditFiles.Field(text));

    private sealed record Row(long LogIndex, string Kind, string Who, string? Record);

    private static async Task<List<Row>> RowsAsync(Visitor visitor, string query)
    {
        var answer = await visitor.GetAsync("/audit.jsonl" + query);
        Assert.Equal(HttpStatusCode.OK, answer.Status);
        return
        [
            .. answer
                .Text.Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Select(line => JsonSerializer.Deserialize<Row>(line, JsonSerializerOptions.Web)!),
        ];
    }
}
