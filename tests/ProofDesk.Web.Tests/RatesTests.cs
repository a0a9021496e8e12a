using System.Net;
using System.Text.RegularExpressions;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Rates;

namespace ProofDesk.Web.Tests;

/// <summary>The shop's rate card in the desk: common practice until it writes its own, then versions.</summary>
[Collection(OneServer.Name)]
public sealed class RatesTests(RunningServer server)
{
    [Fact]
    public async Task A_card_is_kept_in_versions_and_wrong_numbers_are_said_with_their_field()
    {
        var rates = server.Service<ShopRates>();
        var page = await server.Staff.GetAsync("/rates");
        Assert.Contains("The money is an example", page.Text);
        Assert.Equal(40, (await rates.CurrentAsync()).HourRate);

        var kept = await server.Staff.PostAsync(
            page,
            Filled(page, ("Numbers[hourRate]", "47.5"), ("Breaks", "50: 90\r\n200: 82.5")),
            form: 1
        );
        Assert.Equal((HttpStatusCode.Redirect, "/rates"), (kept.Status, kept.Location));
        var card = await rates.CurrentAsync();
        Assert.Equal((47.5, 15), (card.HourRate, card.ScreenMakeMinutes));
        Assert.Equal([(50, 0.9), (200, 0.825)], card.GarmentBreaks.Select(b => (b.From, b.Share)));

        var shown = await server.Staff.GetAsync("/rates");
        Assert.DoesNotContain("The money is an example", shown.Text);
        var wrong = await server.Staff.PostAsync(
            shown,
            Filled(shown, ("Numbers[sewingMinutes]", "601"), ("Breaks", "24 95")),
            form: 1
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.Status);
        Assert.Contains("Cutting and sewing a garment: 601 min is given; 0 to 600 is possible.", wrong.Text);
        Assert.Contains("&quot;24 95&quot; is not understood. Write pieces, a colon and per cent", wrong.Text);
        Assert.Contains("value=\"601\"", wrong.Text);

        // Two people with the same page: the second is told, and what they typed is still there.
        var other = await server.Staff.GetAsync("/rates");
        await server.Staff.PostAsync(shown, Filled(shown, ("Numbers[hourRate]", "50")), form: 1);
        var late = await server.Staff.PostAsync(other, Filled(other, ("Numbers[hourRate]", "51")), form: 1);
        Assert.Equal(HttpStatusCode.Conflict, late.Status);
        Assert.Contains("value=\"51\"", late.Text);
        Assert.Equal(50, (await rates.CurrentAsync()).HourRate);
        Assert.Equal(2, (await rates.HistoryAsync()).Count);
        var history = (await server.Staff.GetAsync("/rates")).Text;
        Assert.Contains("An hour of work, with place and machine: 47.5, now 50", history);
        Assert.Contains("first written", history);
    }

    /// <summary>The fields as the page shows them, some typed over.</summary>
    private static Dictionary<string, string> Filled(Page page, params (string Name, string Value)[] typed)
    {
        var fields = Regex
            .Matches(page.Text, "name=\"(Numbers[^\"]*)\"[^>]*value=\"([^\"]*)\"")
            .ToDictionary(m => m.Groups[1].Value, m => m.Groups[2].Value);
        foreach (var (name, value) in typed)
            fields[name] = value;
        return fields;
    }
}
