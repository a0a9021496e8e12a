using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Web.Tests;

/// <summary>Answers that need the mailed code (level E1), by plain forms.</summary>
[Collection(OneServer.Name)]
public sealed class CodeTests(RunningServer server)
{
    private static readonly Dictionary<string, string> WithCode = new() { ["Evidence"] = "code" };

    [Fact]
    public async Task An_approval_with_the_mailed_code_is_of_level_E1()
    {
        var (client, review, version) = await server.InvitedClientAsync("with code", WithCode);
        var lastLook = await RunningServer.LastLookAsync(client, review);

        var withoutCode = await client.PostAsync(lastLook, form: 1);
        var asked = await client.PostAsync(lastLook, form: 0);
        var code = await CodeAsync(version);
        var wrong = await client.PostAsync(asked, new() { ["Code"] = Other(code) }, form: 1);
        var decided = await client.PostAsync(wrong, new() { ["Code"] = $"{code[..4]} {code[4..]}" }, form: 1);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, withoutCode.Status);
        Assert.Contains("Type the code from the mail we sent you.", withoutCode.Text);
        Assert.Equal(HttpStatusCode.Accepted, asked.Status);
        Assert.Contains(
            "If a code can be sent now, it is in the mailbox of k***@harbour-rowing.example within a minute. It is good for 10 minutes and one answer; a newer code ends the older. At most 3 an hour are sent.",
            asked.Text
        );
        Assert.Contains("This is not the code we mailed. 4 tries are left.", wrong.Text);
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        var decision = await server.ReadAsync(db => db.Decisions.SingleAsync(d => d.VersionId == version));
        var evidence = StatementJson.Parse(decision.StatementBytes).Evidence;
        Assert.Equal((EvidenceLevel.Code, EvidenceLevel.Code), (decision.EvidenceLevel, evidence.Level));
        Assert.NotNull(evidence.CodeAt);
        client.Dispose();
    }

    [Fact]
    public async Task The_answer_to_asking_for_a_code_is_the_same_when_none_leaves()
    {
        var (client, review, version) = await server.InvitedClientAsync("four codes", WithCode);
        var page = await RunningServer.LastLookAsync(client, review);

        var said = new List<string>();
        for (var time = 0; time < 4; time++)
        {
            var asked = await client.PostAsync(page, form: 0);
            said.Add($"{asked.Status} {Regex.Match(asked.Text, "role=\"status\">(.*?)</p>").Groups[1].Value}");
        }

        Assert.Single(said.Distinct());
        Assert.Equal(3, await server.ReadAsync(db => db.MailedCodes.CountAsync(c => c.VersionId == version)));
        client.Dispose();
    }

    [Fact]
    public async Task Changes_need_the_code_too()
    {
        var (client, review, version) = await server.InvitedClientAsync("changes with code", WithCode);
        var form = await client.GetAsync(review + "/changes");
        var lastLook = await client.PostAsync(
            form,
            new()
            {
                ["Changes[0].Thing"] = "order",
                ["Changes[0].Words"] = "another colour",
                ["Name"] = "Kim Reed",
            }
        );

        var refused = await client.PostAsync(lastLook, form: 1);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        client.Dispose();
    }

    [Fact]
    public async Task The_shop_asks_for_a_code_from_an_order_value_on()
    {
        var page = await server.Staff.GetAsync("/shop");
        var kept = await server.Staff.PostAsync(
            page,
            new()
            {
                ["CodeFrom"] = "500",
                ["Currency"] = "EUR",
                ["RemindAfterDays"] = "0",
                ["Lines"] = "",
            },
            form: 1
        );
        var below = await server.RenderedVersionAsync("below", new() { ["Value"] = "499.99" });
        var above = await server.RenderedVersionAsync("above", new() { ["Value"] = "500" });

        Assert.Equal(HttpStatusCode.Redirect, kept.Status);
        var shop = await server.ReadAsync(db => db.Shop.AsNoTracking().SingleAsync());
        Assert.Equal(EvidenceLevel.Link, EvidenceAsked.Of(await server.OrderOfAsync(below), shop));
        Assert.Equal(EvidenceLevel.Code, EvidenceAsked.Of(await server.OrderOfAsync(above), shop));
        var order = await server.OrderOfAsync(above);
        Assert.Equal(50_000, order.ValueMinor);
        Assert.Contains("500.00 EUR", (await server.Staff.GetAsync($"/orders/{order.Id}")).Text);
        var stale = await server.Staff.PostAsync(page, new() { ["RemindAfterDays"] = "3" }, form: 1);
        Assert.Equal(HttpStatusCode.Conflict, stale.Status);
    }

    private async Task<string> CodeAsync(Guid version) =>
        Regex.Match(await server.LetterAsync(version, "code"), "^([0-9]{8})$", RegexOptions.Multiline).Groups[1].Value;

    private static string Other(string code) => (code[0] == '9' ? '0' : '9') + code[1..];
}
