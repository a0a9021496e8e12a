using ProofDesk.Printing.Costs;

namespace ProofDesk.Printing.Tests.Costs;

public sealed class RateCardJsonTests
{
    [Fact]
    public void A_card_that_is_written_is_read_back_the_same()
    {
        var card = RateCard.CommonPractice with
        {
            Name = "Autumn",
            HourRate = 51.5,
            SpoiltShare = 0.07,
            SpoiltAtLeast = 3,
            GarmentBreaks = [new(12, 0.9)],
        };
        foreach (var field in RateField.All.Where(f => f.Unit == "min"))
            card = field.With(card, field.Of(card) + 0.25);

        var read = RateCardJson.Read(RateCardJson.Write(card), "autumn.json");

        Assert.Equal(RateCardJson.Write(card), RateCardJson.Write(read));
        Assert.Equal(card with { GarmentBreaks = read.GarmentBreaks }, read);
        Assert.Equal(new PriceBreak(12, 0.9), Assert.Single(read.GarmentBreaks));
    }

    [Fact]
    public void Every_number_of_the_card_is_a_field_and_each_has_a_name_of_its_own()
    {
        var numbers = typeof(RateCard)
            .GetProperties()
            .Where(p => p.CanWrite && (p.PropertyType == typeof(double) || p.PropertyType == typeof(int)))
            .ToArray();

        Assert.Equal(numbers.Length, RateField.All.Select(f => f.Name).Distinct().Count());
        // Each field changes the card, and no two the same way.
        var changed = RateField
            .All.Select(f => f.With(RateCard.CommonPractice, f.Of(RateCard.CommonPractice) + 1))
            .ToArray();
        Assert.Equal(RateField.All.Length, changed.Distinct().Count());
        Assert.All(RateField.All, f => Assert.Null(f.Problem(f.Of(RateCard.CommonPractice))));
    }

    /// <summary>docs/costs.md shows a whole card: it is common practice, field by field.</summary>
    [Fact]
    public void The_card_of_the_documents_is_common_practice()
    {
        var page = File.ReadAllText(Path.Combine(Folder(), "docs", "costs.md"));
        var from = page.IndexOf("```json\n", StringComparison.Ordinal) + 8;
        var shown = page[from..page.IndexOf("```", from, StringComparison.Ordinal)];

        var card = RateCardJson.Read(shown, "costs.md");

        Assert.Equal(RateCardJson.Write(RateCard.CommonPractice with { Name = card.Name }), RateCardJson.Write(card));
        Assert.All(RateField.All, f => Assert.Contains($"\"{f.Name}\"", shown, StringComparison.Ordinal));
    }

    private static string Folder()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder)!;
        return folder;
    }

    [Theory]
    [InlineData("[]", "card.json: not a rate card: it is no JSON object")]
    [InlineData("{\n\"hourRate\": }", "card.json, line 2: not a rate card that is understood")]
    [InlineData("{\"hourRate\":1,\"hourRate\":2}", "card.json: not a rate card that is understood")]
    [InlineData("{\"hourlyRate\":1}", "card.json, field hourlyRate: a rate card has no such field")]
    [InlineData("{\"hourRate\":\"1\"}", "card.json, field hourRate: a number is needed")]
    [InlineData("{\"hourRate\":-1}", "card.json, field hourRate: -1 is given; 0 to 100000 is possible")]
    [InlineData("{\"sewingMinutes\":700}", "card.json, field sewingMinutes: 700 min is given; 0 to 600 is possible")]
    [InlineData(
        "{\"spoiltAtLeast\":1.5}",
        "card.json, field spoiltAtLeast: 1.5 pieces is given; whole pieces are counted"
    )]
    [InlineData("{\"name\":\"  \"}", "card.json, field name: a name of 1 to 80 characters is needed")]
    [InlineData("{\"garmentBreaks\":1}", "card.json, field garmentBreaks: a list of { from, percent } is needed")]
    [InlineData(
        "{\"garmentBreaks\":[{\"from\":24,\"percent\":95},{\"from\":12,\"percent\":90}]}",
        "card.json, field garmentBreaks: a step from 12 pieces comes after one from 24; write them in rising order"
    )]
    [InlineData(
        "{\"garmentBreaks\":[{\"from\":24,\"percent\":120}]}",
        "card.json, field garmentBreaks: 120 % of the price is given; more than 0 and up to 100 is possible"
    )]
    [InlineData("{\"garmentBreaks\":[{\"percent\":90}]}", "card.json, field garmentBreaks[0].from: a number is needed")]
    [InlineData(
        "{\"garmentBreaks\":[{\"from\":1,\"percent\":90}]}",
        "card.json, field garmentBreaks[0].from: 2 to 1000000 whole pieces are possible"
    )]
    public void What_is_no_rate_card_is_refused_with_its_field(string json, string message)
    {
        Assert.Equal(message, Assert.Throws<RateProblem>(() => RateCardJson.Read(json, "card.json")).Message);
    }
}
