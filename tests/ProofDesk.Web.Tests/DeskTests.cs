using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.Desk;

namespace ProofDesk.Web.Tests;

/// <summary>The list: the next act of each order from the first proof to the archive.</summary>
[Collection(OneServer.Name)]
public sealed class DeskTests(RunningServer server)
{
    [Fact]
    public async Task The_next_act_of_an_order_follows_it_from_the_proof_to_the_archive()
    {
        var version = await server.RenderedVersionAsync("Shelf of acts");
        var order = await server.OrderOfAsync(version);
        var acts = new List<string> { await ActAsync(order.Number) };
        var link = await server.SentLinkAsync(version);
        acts.Add(await ActAsync(order.Number));
        var client = server.NewVisitor();
        var review = (await client.GetAsync(link)).Location!;
        await client.GetAsync(review);
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        acts.Add(await ActAsync(order.Number));
        await PostAsync($"/versions/{version}/films", "/films");
        acts.Add(await ActAsync(order.Number));
        await PostAsync($"/versions/{version}/production", "/finished", new() { ["Good"] = "12", ["Spoilt"] = "0" });
        acts.Add(await ActAsync(order.Number));
        await PostAsync($"/versions/{version}/production", "/archive");
        acts.Add(await ActAsync(order.Number));
        var open = await server.Staff.GetAsync("/desk");
        var archive = await server.Staff.GetAsync("/desk?turn=done");
        await PostAsync($"/versions/{version}/production", "/reopening");
        acts.Add(await ActAsync(order.Number));

        Assert.Equal(
            [
                "Send version 1",
                "Follow version 1",
                "Burn screens",
                "Check the first good piece",
                "Put it away",
                "Order it again",
                "Put it away",
            ],
            acts
        );
        Assert.DoesNotContain($"{order.Number} Shelf of acts", open.Text);
        Assert.Contains($"{order.Number} Shelf of acts", archive.Text);
        client.Dispose();
    }

    [Fact]
    public void Each_standing_has_its_verb()
    {
        var version = new NewestVersion(Guid.NewGuid(), 3, VersionState.Decided);
        var order = new OrderRow(
            Guid.NewGuid(),
            1001,
            "Tee",
            "Club",
            12,
            null,
            OrderState.WaitingForUs,
            null,
            null,
            false,
            null,
            null,
            new HashSet<EventKind>(),
            false
        );
        (string Verb, OrderRow Row)[] cases =
        [
            ("Make the proof", order),
            ("Answer the background question", order with { AsksAboutBackground = true }),
            ("Burn screens", order with { State = OrderState.ReadyToBurn, RepeatOfVersionId = Guid.NewGuid() }),
            ("Watch version 3 being made", order with { Newest = version with { State = VersionState.Rendering } }),
            ("See why version 3 failed", order with { Newest = version with { State = VersionState.Failed } }),
            ("Send version 3", order with { Newest = version with { State = VersionState.Frozen } }),
            ("Make version 4", order with { Newest = version with { State = VersionState.Sent } }),
            (
                "Follow version 3",
                order with
                {
                    State = OrderState.WaitingForThem,
                    Newest = version with { State = VersionState.Sent },
                }
            ),
            ("Answer the changes of Kim Reed", order with { Newest = version, Asks = "Kim Reed" }),
            ("Settle what holds it", order with { Newest = version, HeldWhy = "not me" }),
            (
                "Count the pieces",
                order with
                {
                    State = OrderState.ReadyToBurn,
                    Newest = version,
                    Happened = new HashSet<EventKind> { EventKind.FilmsExported, EventKind.PressChecked },
                }
            ),
            ("Open the order", order with { State = OrderState.Closed }),
        ];

        Assert.Equal(cases.Select(c => c.Verb), cases.Select(c => NextAct.Of(c.Row).Verb));
    }

    [Fact]
    public async Task What_is_looked_for_is_found_in_every_state_and_what_is_not_there_is_said()
    {
        var number = await server.ReadAsync(async db =>
        {
            var order = new Order
            {
                Number = 1 + (await db.Orders.MaxAsync(o => (int?)o.Number) ?? 1000),
                Title = "Ölbaum Überlauf",
                Client = new Client { Name = "Élan", Email = "a@b.example" },
                CreatedAt = DateTimeOffset.UtcNow,
            };
            db.Orders.Add(order);
            await db.SaveChangesAsync();
            return order.Number;
        });

        foreach (var find in new[] { "öLBAUM", $"{number}", "ÉLAN" })
        {
            var page = await server.Staff.GetAsync($"/desk?find={Uri.EscapeDataString(find)}");
            Assert.Contains("&#xD6;lbaum &#xDC;berlauf", page.Text);
        }
        var none = await server.Staff.GetAsync("/desk?find=nobody-has-this&from=2026-01-01");
        Assert.Contains("Nothing fits. A word is looked for anywhere in title and client;", none.Text);
        var odd = await server.Staff.GetAsync("/desk?from=yesterday&page=99999999&turn=us&find=%C3%96lbaum");
        Assert.Equal(HttpStatusCode.OK, odd.Status);
        Assert.Contains("lbaum", odd.Text);
    }

    private async Task<string> ActAsync(int number)
    {
        var page = await server.Staff.GetAsync($"/desk?find={number}");
        return WebUtility.HtmlDecode(
            Regex
                .Match(page.Text, $"href=\"[^\"]*\">(?<verb>[^<]*)<span class=\"aside\">, order {number}</span>")
                .Groups["verb"]
                .Value
        );
    }

    private async Task PostAsync(string page, string form, Dictionary<string, string>? fields = null)
    {
        var shown = await server.Staff.GetAsync(page);
        var at = shown.Forms.FindIndex(f => f.Action.EndsWith(form, StringComparison.Ordinal));
        Assert.True(at >= 0, $"{page} has no form {form}");
        var answer = await server.Staff.PostAsync(shown, fields ?? [], at);
        Assert.True(answer.Status is HttpStatusCode.Redirect or HttpStatusCode.OK, $"{form} answered {answer.Status}");
    }
}
