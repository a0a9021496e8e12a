using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Files;
using ProofDesk.Printing.Costs;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Rates;

namespace ProofDesk.Web.Tests;

/// <summary>What a shop decides about the inks of painted art: rules on the order form, the table of screens on the proof's page.</summary>
[Collection(OneServer.Name)]
public sealed class InkChoiceTests(RunningServer server)
{
    private const string Glow = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60" width="80" height="60">
          <defs><linearGradient id="g" x2="0" y2="1"><stop offset="0" stop-color="#24307e"/><stop offset="0.6" stop-color="#d8442a"/><stop offset="1" stop-color="#ffe45c"/></linearGradient></defs>
          <ellipse cx="40" cy="30" rx="40" ry="30" fill="url(#g)"/>
        </svg>
        """;

    [Fact]
    public async Task Rules_print_the_table_stays_with_its_version_and_a_row_of_it_makes_the_next()
    {
        var fields = RunningServer.OrderFields("glow with rules");
        fields["Method"] = "simulated-process";
        fields["Lines[0].Ground"] = "tee/black";
        fields["Lines[1].Ground"] = "tee/white";
        fields["Lines[1].Counts[0].Size"] = "M";
        fields["Lines[1].Counts[0].Count"] = "6";
        fields["InkCount"] = "3";
        Rule(fields, 0, "violet", "must", "1");
        Rule(fields, 1, "navy", "never", "");
        Rule(fields, 2, "red", "", "2");
        var made = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/orders/new"),
            fields,
            form: 1,
            file: ("Art", "glow.svg", Glow)
        );
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var version = await server.FinishedAsync(order);
        var request = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.Id == version).Select(v => v.RequestJson).SingleAsync()
        );
        var proof = await server.Staff.GetAsync($"/versions/{version}?ground=tee%2Fblack");
        var shown = await server.Staff.GetAsync($"/orders/{order}");
        var edit = await server.Staff.GetAsync($"/orders/{order}/edit");

        Assert.Contains(
            "\"inkRules\":{\"must\":[\"violet\"],\"never\":[\"navy\"],\"order\":[\"violet\",\"red\"]}",
            request
        );
        Assert.Contains("must print Violet; never Navy; in the order Violet, Red", shown.Text);
        Assert.Contains("<option value=\"must\" selected=\"selected\">must print</option>", edit.Text);
        Assert.Contains("What does one more screen buy?", proof.Text);
        Assert.Contains("One set or two", proof.Text);
        Assert.Contains("Where this print cannot follow the art", proof.Text);

        var table = await TableAsync(version);
        Assert.Contains("<span class=\"soft\">this version</span>", table.Text);
        // Whichever card is the shop's: another test of this server may have written one.
        Assert.Matches("each \\((common practice|the shop)", table.Text);
        // The card is read anew for each look; what it says is the same, so nothing is counted again.
        var read = await server.ReadAsync(db =>
            new VersionReader(db, server.Service<IFileStore>()).FindAsync(version, default)
        );
        var card = RateCardJson.Write(await server.Service<ShopRates>().CurrentAsync());
        var again = await server
            .Service<ScreensShelf>()
            .ReadAsync(read!, read!.Order.Prints[0], RateCardJson.Read(card, "again"), TimeSpan.Zero, default);
        Assert.NotNull(again);
        var row = table.Forms.FindIndex(f => f.Hidden.GetValueOrDefault("colours") == "4");
        var taken = await server.Staff.PostAsync(table, form: row);
        var next = await server.FinishedAsync(order);
        var before = await TableAsync(version);

        Assert.Equal((HttpStatusCode.Redirect, $"/orders/{order}"), (taken.Status, taken.Location));
        Assert.NotEqual(version, next);
        Assert.Equal(
            ("4", true),
            await server.ReadAsync(async db =>
            {
                var print = await db.OrderPrints.SingleAsync(p => p.OrderId == order);
                return (print.Inks, print.Options.Contains("\"must\":[\"violet\"]"));
            })
        );
        // The old version has its table still, and may not be taken from any more.
        Assert.Contains("<span class=\"soft\">this version</span>", before.Text);
        Assert.DoesNotContain("name=\"colours\"", before.Text);
    }

    [Fact]
    public async Task A_rule_about_an_ink_of_another_method_is_sent_back()
    {
        var fields = RunningServer.OrderFields("foreign rule");
        fields["Method"] = "simulated-process";
        Rule(fields, 0, "wb-red", "must", "");
        var back = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/orders/new"),
            fields,
            form: 1,
            file: ("Art", "glow.svg", Glow)
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, back.Status);
        Assert.Contains(
            "Red is not an ink of Screen print, simulated process. Say nothing about it, or choose the other method.",
            back.Text
        );
    }

    [Fact]
    public async Task Ticked_inks_and_fixed_inks_do_not_go_together()
    {
        var fields = RunningServer.OrderFields("both");
        fields["Inks"] = "red";
        Rule(fields, 0, "green", "must", "");
        var back = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/orders/new"),
            fields,
            form: 1,
            file: ("Art", "glow.svg", Glow)
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, back.Status);
        Assert.Contains("Inks are ticked by name, and others are fixed or left out: use one of the two.", back.Text);
    }

    private async Task<Page> TableAsync(Guid version)
    {
        for (var tries = 0; tries < 400; tries++)
        {
            var page = await server.Staff.GetAsync($"/versions/{version}/screens?ground=tee%2Fblack");
            if (page.Text.Contains("<table>", StringComparison.Ordinal))
                return page;
            Assert.Contains("That takes about ten seconds, once.", page.Text);
        }
        throw new TimeoutException("no table of screens in ten minutes");
    }

    private static void Rule(Dictionary<string, string> fields, int row, string ink, string use, string place)
    {
        fields[$"Rules[{row}].Ink"] = ink;
        fields[$"Rules[{row}].Use"] = use;
        fields[$"Rules[{row}].Place"] = place;
    }
}
