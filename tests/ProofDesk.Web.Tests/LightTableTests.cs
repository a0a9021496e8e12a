using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Tests;

/// <summary>Films changed by hand: what is typed becomes the next version, and only that.</summary>
[Collection(OneServer.Name)]
public sealed class LightTableTests(RunningServer server)
{
    [Fact]
    public async Task Films_changed_by_hand_make_the_next_version_and_the_old_one_stays_as_it_was()
    {
        var first = await OnBlackAsync("hands on");
        var before = await SummaryAsync(first);
        var names = before.Prints[0].Plates.Select(p => p.Name).ToList();
        var red = names.FindIndex(n => n.Contains("red", StringComparison.OrdinalIgnoreCase));
        var table = await server.Staff.GetAsync(Table(first));

        var sent = await server.Staff.PostAsync(
            table,
            new()
            {
                ["Films[0].KeepOut[0].Left"] = "2",
                ["Films[0].KeepOut[0].Top"] = "3",
                ["Films[0].KeepOut[0].Width"] = "20",
                ["Films[0].KeepOut[0].Height"] = "9,5",
                [$"Films[{red}].Spread"] = "-120",
                [$"Films[{red}].Mesh"] = "90-40",
            },
            form: 1
        );
        Assert.Equal(HttpStatusCode.Redirect, sent.Status);
        var second = await server.FinishedAsync(await OrderOfAsync(first));
        var (was, now) = (await SummaryAsync(first), await SummaryAsync(second));
        var order = await server.Staff.GetAsync($"/orders/{await OrderOfAsync(first)}");
        var proof = await server.Staff.GetAsync($"/versions/{second}");
        var again = await server.Staff.GetAsync(Table(second));

        Assert.StartsWith($"/versions/{second}/light-table?", sent.Location);
        Assert.Equal(before.ToJson(), was.ToJson());
        for (var i = 0; i < names.Count; i++)
            Assert.Equal(i != 0 && i != red, was.Prints[0].Plates[i].Sha256 == now.Prints[0].Plates[i].Sha256);
        Assert.StartsWith("kept out of 1 rectangle (", now.Prints[0].Plates[0].ByHand);
        Assert.Equal("choke 120 um, mesh 90-40 (61-64 made)", now.Prints[0].Plates[red].ByHand);
        Assert.Equal("90-40", now.Prints[0].Plates[red].Mesh);
        var recipe = await RecipeAsync(second);
        Assert.Contains("spreadUm", recipe);
        Assert.Contains("keepOut", recipe);
        Assert.DoesNotContain("spreadUm", await RecipeAsync(first));
        Assert.Contains($"<b>{names[red]}</b>: choke 120 um, mesh 90-40", order.Text);
        Assert.Contains("<b>changed by hand</b>: choke 120 um", proof.Text);
        Assert.Contains($"Changed by hand: 2 films of {names.Count}", again.Text);
        Assert.Contains("value=\"9.5\"", again.Text);
        Assert.Contains("value=\"-120\"", again.Text);
    }

    [Fact]
    public async Task Put_back_films_are_written_as_they_were_made()
    {
        var first = await server.RenderedVersionAsync("there and back");
        var order = await OrderOfAsync(first);
        await server.Staff.PostAsync(
            await server.Staff.GetAsync(Table(first)),
            new() { ["Films[0].Spread"] = "-150", ["Films[1].Spread"] = "-150" },
            form: 1
        );
        var second = await server.FinishedAsync(order);
        var one = await SummaryAsync(second);
        var name = one.Prints[0].Plates[0].Name;

        await server.Staff.PostAsync(
            await server.Staff.GetAsync(Table(second)),
            new()
            {
                ["Films[0].Spread"] = "-150",
                ["Films[1].Spread"] = "-150",
                ["PutBack"] = name,
            },
            form: 1
        );
        var third = await server.FinishedAsync(order);
        var page = await server.Staff.GetAsync($"/orders/{order}");
        var dropped = await server.Staff.PostAsync(
            page,
            form: page.Forms.FindIndex(f => f.Action.EndsWith("/hand-work", StringComparison.Ordinal))
        );
        var fourth = await server.FinishedAsync(order);

        var (made, partly, back) = (await SummaryAsync(first), await SummaryAsync(third), await SummaryAsync(fourth));
        Assert.Equal((null, "choke 150 um"), (partly.Prints[0].Plates[0].ByHand, partly.Prints[0].Plates[1].ByHand));
        Assert.Equal(made.Prints[0].Plates[0].Sha256, partly.Prints[0].Plates[0].Sha256);
        Assert.NotEqual(made.Prints[0].Plates[1].Sha256, partly.Prints[0].Plates[1].Sha256);
        Assert.Equal((HttpStatusCode.Redirect, $"/orders/{order}"), (dropped.Status, dropped.Location));
        Assert.Equal(made.Prints[0].Plates.Select(p => p.Sha256), back.Prints[0].Plates.Select(p => p.Sha256));
        Assert.DoesNotContain("Changed by hand", (await server.Staff.GetAsync($"/orders/{order}")).Text);
    }

    [Fact]
    public async Task What_no_film_can_have_is_said_whole_beside_its_field_and_stays_typed()
    {
        var version = await OnBlackAsync("slips");
        var name = (await SummaryAsync(version)).Prints[0].Plates[0].Name;
        var fields = new Dictionary<string, string>
        {
            ["Films[0].Spread"] = "900",
            ["Films[0].Ruling"] = "7",
            ["Films[0].Mesh"] = "61-64",
            ["Films[0].KeepOut[0].Left"] = "5",
        };
        for (var step = 0; step <= 10; step++)
            fields[$"Films[0].Wedge[{step}]"] = step == 5 ? "half" : $"{10 * step}";

        var unreadable = await server.Staff.PostAsync(await server.Staff.GetAsync(Table(version)), fields, form: 1);
        fields["Films[0].Wedge[5]"] = "20";
        fields["Films[0].KeepOut[0].Left"] = "";
        var outside = await server.Staff.PostAsync(await server.Staff.GetAsync(Table(version)), fields, form: 1);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, unreadable.Status);
        var said = WebUtility.HtmlDecode(unreadable.Text);
        Assert.Contains(
            $"<a href=\"#Films_0__Wedge\">1. {name}: wedge at 50 % \"half\" is not a number. Type percent from 0 to 100; empty leaves the step as made.</a>",
            said
        );
        Assert.Contains(
            $"<a href=\"#Films_0__KeepOut\">1. {name}: rectangle 1 is not complete. Type left, top, width and height in millimetres, or empty all four.</a>",
            said
        );
        Assert.Contains("value=\"half\"", unreadable.Text);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, outside.Status);
        said = WebUtility.HtmlDecode(outside.Text);
        Assert.Contains(
            $"<a href=\"#Films_0__Spread\">1. {name}: a spread of 900 um, -500 (choke) to 500 um are possible. Type a number within the limits, or empty the field to leave it as made.</a>",
            said
        );
        Assert.Contains(
            $"<p class=\"said-wrong\" id=\"Films_0__Ruling-said\">1. {name}: a ruling of 7 lpi, 10 to 150 are possible. Type a number within the limits, or empty the field to leave it as made.</p>",
            said
        );
        Assert.Contains(
            $"1. {name}: the wedge falls from 40 % at 40 % to 20 % at 50 %; each step is at least as dark as the one before it. Change that step, or put the wedge back.",
            said
        );
        Assert.Matches("value=\"900\"[^>]*aria-invalid=\"true\"", outside.Text);
        Assert.Equal(1, await server.ReadAsync(db => db.ProofVersions.CountAsync(v => v.Order!.Title == "slips")));
    }

    [Fact]
    public async Task A_form_without_a_change_makes_no_version()
    {
        var version = await server.RenderedVersionAsync("as it is");

        var answer = await server.Staff.PostAsync(await server.Staff.GetAsync(Table(version)), form: 1);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Contains(
            "Nothing is changed: the films of version 1 are made exactly so. Change a film first.",
            answer.Text
        );
    }

    [Fact]
    public async Task An_order_that_was_changed_meanwhile_is_answered_409_and_what_was_typed_is_kept()
    {
        var version = await server.RenderedVersionAsync("two tables");
        var (mine, theirs) = (await server.Staff.GetAsync(Table(version)), await server.Staff.GetAsync(Table(version)));
        await server.Staff.PostAsync(theirs, new() { ["Films[0].Spread"] = "-60" }, form: 1);

        var late = await server.Staff.PostAsync(mine, new() { ["Films[1].Spread"] = "-77" }, form: 1);

        Assert.Equal(HttpStatusCode.Conflict, late.Status);
        Assert.Contains(
            "Somebody else changed this order meanwhile, and nothing was written. What you typed is still in the fields below: compare it with the order, then send it from a freshly loaded light table.",
            late.Text
        );
        Assert.Contains("value=\"-77\"", late.Text);
        Assert.Equal(2, await server.ReadAsync(db => db.ProofVersions.CountAsync(v => v.Order!.Title == "two tables")));
    }

    [Fact]
    public async Task The_light_table_is_for_the_shop_alone()
    {
        var (client, _, version) = await server.InvitedClientAsync("not for clients");
        using var stranger = new Visitor(server);
        foreach (var path in new[] { Table(version), $"{Table(version)}/film.png?screen=1", Loupe(version, "film=1") })
        {
            Assert.Equal("/sign-in", (await stranger.GetAsync(path)).Location);
            Assert.Equal("/sign-in", (await client.GetAsync(path)).Location);
            Assert.Equal(HttpStatusCode.OK, (await server.Staff.GetAsync(path)).Status);
        }
        Assert.Equal(
            HttpStatusCode.NotFound,
            (await server.Staff.GetAsync($"{Table(version)}/film.png?screen=9")).Status
        );
        Assert.Equal(HttpStatusCode.NotFound, (await server.Staff.GetAsync(Table(Guid.NewGuid()))).Status);
        client.Dispose();
    }

    [Fact]
    public async Task How_the_films_lie_is_said_by_the_address_so_that_no_script_is_needed()
    {
        var version = await server.RenderedVersionAsync("by address");

        var aside = await server.Staff.GetAsync($"{Table(version)}?lay=black&aside=0&aside=40");
        var alone = await server.Staff.GetAsync($"{Table(version)}?show=alone-2");

        Assert.Matches(
            "data-screen=\"2\" transform=\"translate\\([1-9][0-9.]* 0\\)\" visibility=\"visible\"",
            aside.Text
        );
        Assert.Contains("lay=black\"", aside.Text);
        Assert.Matches("data-screen=\"1\" transform=\"translate\\(0 0\\)\" visibility=\"hidden\"", alone.Text);
        Assert.Contains("1 film on the light: 2. ", alone.Text);
        Assert.DoesNotMatch(@"\sstyle=""", alone.Text);
    }

    [Fact]
    public async Task A_film_sheet_is_clear_where_no_ink_is()
    {
        var version = await server.RenderedVersionAsync("clear");
        var plate = (await SummaryAsync(version)).Prints[0].Plates[0];

        var sheet = await server.Staff.GetAsync($"{Table(version)}/film.png?screen=1&lay=black");

        using var image = NetVips.Image.NewFromBuffer(sheet.Bytes);
        Assert.Equal(4, image.Bands);
        using var ink = image.ExtractBand(3);
        Assert.Equal(plate.CoveragePercent, 100 * ink.Avg() / 255, 0.5);
        using var colour = image.ExtractBand(0, n: 3);
        Assert.Equal((0x14, 0x14), ((int)colour.Min(), (int)colour.Max()));
    }

    /// <summary>Two spot colours on a white base.</summary>
    private async Task<Guid> OnBlackAsync(string title)
    {
        var form = await server.Staff.GetAsync("/orders/new");
        var fields = RunningServer.OrderFields(title);
        fields["Lines[0].Ground"] = "tee/black";
        var made = await server.Staff.PostAsync(
            form,
            fields,
            form: 1,
            file: ("Art", "mark.svg", RunningServer.SmallMark)
        );
        return await server.FinishedAsync(Guid.Parse(made.Location!.Split('/')[^1]));
    }

    private static string Table(Guid version) => $"/versions/{version}/light-table";

    private static string Loupe(Guid version, string what) =>
        $"/versions/{version}/loupe.png?print=left-chest&ground=tee%2Fwhite&x=15&y=15&{what}";

    private Task<Guid> OrderOfAsync(Guid version) =>
        server.ReadAsync(db => db.ProofVersions.Where(v => v.Id == version).Select(v => v.OrderId).SingleAsync());

    private async Task<ProofSummary> SummaryAsync(Guid version) =>
        ProofSummary.FromJson(
            System.Text.Encoding.UTF8.GetBytes(await TextAsync(version, f => f.Path == ProofSummary.Path))
        );

    private Task<string> RecipeAsync(Guid version) =>
        TextAsync(version, f => f.Role == FileRole.Recipe && f.Path.EndsWith("/recipe.json"));

    private async Task<string> TextAsync(
        Guid version,
        System.Linq.Expressions.Expression<Func<VersionFile, bool>> which
    )
    {
        var digest = await server.ReadAsync(db =>
            db.VersionFiles.Where(f => f.VersionId == version).Where(which).Select(f => f.Sha256).SingleAsync()
        );
        await using var file = server.Service<IFileStore>().Open(digest);
        using var reader = new StreamReader(file);
        return await reader.ReadToEndAsync();
    }
}
