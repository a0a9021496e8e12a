using System.Net;
using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Web.Tests;

/// <summary>Art is chosen once, also when the rest of its form has to be mended.</summary>
[Collection(OneServer.Name)]
public sealed class KeptArtTests(RunningServer server)
{
    private static readonly (string, string, string) Mark = ("Art", "pier-mark.svg", RunningServer.SmallMark);

    [Fact]
    public async Task An_order_that_is_mended_keeps_its_art()
    {
        var refused = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/orders/new"),
            new(RunningServer.OrderFields("")),
            form: 1,
            file: Mark
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("<strong>pier-mark.svg</strong> is here already.", refused.Text);

        var made = await server.Staff.PostAsync(refused, RunningServer.OrderFields("Pier shirts"), form: 1);
        Assert.True(made.Status == HttpStatusCode.Redirect, made.Text);
        var order = Guid.Parse(made.Location!.Split('/')[^1]);
        var print = await server.ReadAsync(db =>
            db.Orders.Where(o => o.Id == order).SelectMany(o => o.Prints).SingleAsync()
        );
        var digest = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(RunningServer.SmallMark)));
        Assert.Equal(("pier-mark.svg", digest), (print.ArtFileName, print.ArtSha256));

        // The same when the art of an order is replaced.
        var edit = await server.Staff.GetAsync($"/orders/{order}/edit");
        Assert.DoesNotContain("is here already", edit.Text);
        refused = await server.Staff.PostAsync(
            edit,
            RunningServer.OrderFields(""),
            form: 1,
            file: Mark with
            {
                Item2 = "second.svg",
            }
        );
        Assert.Contains("<strong>second.svg</strong> is here already.", refused.Text);
        var changed = await server.Staff.PostAsync(refused, RunningServer.OrderFields("Pier shirts"), form: 1);
        Assert.True(changed.Status == HttpStatusCode.Redirect, changed.Text);
        print = await server.ReadAsync(db =>
            db.Orders.Where(o => o.Id == order).SelectMany(o => o.Prints).SingleAsync()
        );
        Assert.Equal("second.svg", print.ArtFileName);
    }

    [Fact]
    public async Task What_cannot_be_read_and_what_we_did_not_seal_are_not_kept()
    {
        var form = await server.Staff.GetAsync("/orders/new");
        var unreadable = await server.Staff.PostAsync(
            form,
            RunningServer.OrderFields("Pier shirts"),
            form: 1,
            file: ("Art", "pier.svg", "no drawing")
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, unreadable.Status);
        Assert.DoesNotContain("is here already", unreadable.Text);

        var forged = new Dictionary<string, string>(RunningServer.OrderFields("Pier shirts"))
        {
            ["KeptArt"] = "CfDJ8AAAA",
        };
        var refused = await server.Staff.PostAsync(form, forged, form: 1);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("Choose the art: PNG", refused.Text);
        Assert.DoesNotContain("name=\"KeptArt\"", refused.Text);
    }

    [Fact]
    public async Task A_sheet_that_is_mended_keeps_its_art()
    {
        var fields = new Dictionary<string, string>
        {
            ["Title"] = "",
            ["WidthMm"] = "40",
            ["Quantity"] = "48",
            ["Place"] = "LeftChest",
            ["Methods"] = "sublimation",
            ["Inks"] = "auto",
            ["Grounds"] = "tee/black",
        };
        var refused = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/compare/new"),
            fields,
            form: 1,
            file: Mark
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("<strong>pier-mark.svg</strong> is here already.", refused.Text);

        fields["Title"] = "Pier mark, dyed";
        var made = await server.Staff.PostAsync(refused, fields, form: 1);

        Assert.True(made.Status == HttpStatusCode.Redirect, made.Text);
        Assert.Contains("pier-mark.svg", (await server.Staff.GetAsync(made.Location!)).Text);
    }
}
