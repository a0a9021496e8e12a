using System.Net;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Web.Tests;

/// <summary>The order form's choice for flat colours in painted art: kept, shown, changed and carried to the proof.</summary>
[Collection(OneServer.Name)]
public sealed class FlatAreasTests(RunningServer server)
{
    private const string Dot = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60" width="80" height="60">
          <defs><linearGradient id="g" x2="1"><stop offset="0" stop-color="#24307e"/><stop offset="1" stop-color="#ffe45c"/></linearGradient></defs>
          <rect width="80" height="60" fill="url(#g)"/><rect x="20" y="20" width="40" height="20" fill="#c8102e"/>
        </svg>
        """;

    private async Task<Page> MadeAsync(string? choice)
    {
        var fields = RunningServer.OrderFields("flat areas");
        fields["Method"] = "four-colour-process";
        fields["WidthMm"] = "40";
        if (choice is not null)
            fields["FlatAreas"] = choice;
        return await server.Staff.PostAsync(
            await server.Staff.GetAsync("/orders/new"),
            fields,
            form: 1,
            file: ("Art", "dot.svg", Dot)
        );
    }

    private Task<string> RequestAsync(Guid version) =>
        server.ReadAsync(db => db.ProofVersions.Where(v => v.Id == version).Select(v => v.RequestJson).SingleAsync());

    [Fact]
    public async Task Toned_is_kept_shown_and_carried_to_the_proof_and_solid_is_not_written()
    {
        var made = await MadeAsync("toned");
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var toned = await server.FinishedAsync(order);
        var shown = await server.Staff.GetAsync($"/orders/{order}");
        var edit = await server.Staff.GetAsync($"/orders/{order}/edit");

        Assert.Contains("\"flatAreas\":\"toned\"", await RequestAsync(toned), StringComparison.Ordinal);
        Assert.Contains("<dt>Flat colours</dt><dd>toned like the rest of the art</dd>", shown.Text);
        Assert.Matches("value=\"toned\"[^>]* checked=\"checked\"", edit.Text);

        var fields = RunningServer.OrderFields("flat areas");
        fields["Method"] = "four-colour-process";
        fields["WidthMm"] = "40";
        fields["FlatAreas"] = "solid";
        await server.Staff.PostAsync(edit, fields, form: 1);
        var solid = await server.FinishedAsync(order);

        Assert.NotEqual(toned, solid);
        Assert.DoesNotContain("flatAreas", await RequestAsync(solid), StringComparison.Ordinal);
        // The separator speaks of flat colours only where it kept them apart.
        Assert.DoesNotContain("stands flat on", (await server.Staff.GetAsync($"/versions/{toned}")).Text);
        Assert.Contains("#c8102e stands flat on", (await server.Staff.GetAsync($"/versions/{solid}")).Text);
        Assert.DoesNotContain("toned like the rest of the art", (await server.Staff.GetAsync($"/orders/{order}")).Text);
    }

    [Fact]
    public async Task A_choice_that_is_none_is_sent_back()
    {
        var answer = await MadeAsync("striped");

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Contains("Flat colours in painted art stay solid or are toned.", answer.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_order_that_says_nothing_keeps_them_solid()
    {
        var form = await server.Staff.GetAsync("/orders/new");

        Assert.Matches("value=\"solid\"[^>]* checked=\"checked\"", form.Text);
        Assert.Contains("<legend>Flat colours in painted art</legend>", form.Text, StringComparison.Ordinal);
    }
}
