using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Inks;

public sealed class InkFileTextTests
{
    private const string Whole = """
        {
          // what the shop keeps on its shelf
          "inks": [
            "white",
            "#d02030",
            {
              "id": "harbour-red",
              "name": "Harbour red",
              "kind": "plastisol",
              "measurement": "harbour-red.txt",
              "formula": [
                { "name": "Red paste", "gramsPerKg": 180 },
                { "name": "Clear base", "percent": 82 }
              ],
              "target": { "lab": [45, 68, 42], "tolerance": 1.5, "light": "D65" }
            },
            { "id": "club-blue", "lab": [26, 22, -55], "light": "D65", "mesh": "77-55" }
          ]
        }
        """;

    [Fact]
    public void Ids_colours_and_the_shops_own_inks_stand_in_one_list()
    {
        var (entries, problems) = InkFileText.Read(Whole, "inks.json", name => $"text of {name}");

        Assert.Empty(problems);
        Assert.Equal([(4, "white"), (5, "#d02030"), (6, null), (17, null)], entries.Select(e => (e.Line, e.Word)));
        var red = entries[2].Definition!;
        Assert.Equal(("harbour-red", "Harbour red", InkKind.Plastisol), (red.Id, red.Name, red.Kind));
        Assert.Equal(new MeasurementText("harbour-red.txt", "text of harbour-red.txt"), red.Measurement);
        Assert.Equal<FormulaPart>([new("Red paste", 180), new("Clear base", 820)], red.Formula!.Parts);
        Assert.Equal(new InkTarget(new(45, 68, 42), 1.5, ViewingLight.D65), red.Target);
        var blue = entries[3].Definition!;
        Assert.Equal(("club-blue", new SolidLab(new(26, 22, -55), ViewingLight.D65, "77-55")), (blue.Name, blue.Solid));
    }

    [Theory]
    [InlineData(
        "[\n\"white\",\n",
        "inks.json(3): the text is not JSON from here on; look for a missing comma, quote or bracket"
    )]
    [InlineData(
        "{\"ink\": 3}",
        "inks.json(1): inks: a list is expected, such as [\"white\", \"#d02030\", { \"id\": \"harbour-red\", \"measurement\": \"harbour-red.txt\" }]"
    )]
    [InlineData("[\n3]", "inks.json(2): inks: 3; the id of an ink, a colour #rrggbb or an object is possible")]
    [InlineData(
        "[{\n\"name\": \"A\"}]",
        "inks.json(1): id: the field is missing; name the ink, such as \"id\": \"harbour-red\""
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"lab\": [40, 2]}]",
        "inks.json(2): lab: a list of 2; three numbers are expected, such as [45, 68, 42]"
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"lab\": \"40 2 3\"}]",
        "inks.json(2): lab: the text \"40 2 3\"; three numbers are expected, such as [45, 68, 42]"
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"kind\": \"oil\"}]",
        "inks.json(2): kind: the text \"oil\"; plastisol, water-based, water-based-high-solids is possible"
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"measurement\": \"gone.txt\"}]",
        "inks.json(2): measurement: there is no file \"gone.txt\"; its name is relative to this file"
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"density\": 1}]",
        "inks.json(2): density: no such field; id, name, kind, role, measurement, measurementText, lab, light, mesh, volumeSolids, densityGramsPerCm3, formula, target are possible"
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"volumeSolids\": \"much\"}]",
        "inks.json(2): volumeSolids: the text \"much\" is not a number"
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"formula\": [\n{ \"name\": \"Red\" }]}]",
        "inks.json(3): formula: a part needs a \"name\" and \"gramsPerKg\" or \"percent\" with a number"
    )]
    [InlineData(
        "[{\"id\": \"a\",\n\"target\": { \"tolerance\": 2 }}]",
        "inks.json(2): target.lab: the field is missing; write the wanted L*, a*, b*, such as [45, 68, 42]"
    )]
    public void What_is_wrong_names_file_line_and_field(string json, string message)
    {
        var (_, problems) = InkFileText.Read(json, "inks.json", _ => null);

        Assert.Equal([message], problems.Select(problem => problem.ToString()));
    }

    [Theory]
    [InlineData(
        "\"id\": \"Red Ink\", \"lab\": [40, 2, 3]",
        "inks.json(2): id: \"Red Ink\"; 1 to 60 lower-case letters, digits and hyphens are possible, such as harbour-red"
    )]
    [InlineData(
        "\"id\": \"a\"",
        "inks.json(2): measurement: neither a measurement nor a Lab is given; give the file measured over black and white, or the Lab of a solid on white cloth"
    )]
    [InlineData(
        "\"id\": \"a\", \"lab\": [40, 2, 3], \"measurement\": \"m\", \"measurementText\": \"\"",
        "inks.json(2): lab: a measurement and a Lab are both given; keep the measurement, it says more"
    )]
    [InlineData(
        "\"id\": \"a\",\n\"lab\": [140, 2, 3]",
        "inks.json(3): lab: L* is 140, 0 to 100 is possible; write L*, a*, b*"
    )]
    [InlineData(
        "\"id\": \"a\", \"lab\": [40, 2, 3],\n\"mesh\": \"fine\"",
        "inks.json(3): mesh: \"fine\"; threads per cm and thread in um, such as 61-64, is possible"
    )]
    [InlineData(
        "\"id\": \"a\", \"lab\": [40, 2, 3],\n\"volumeSolids\": 98",
        "inks.json(3): volumeSolids: 98, 0.05 to 1 is possible; it is the share of the wet volume that stays"
    )]
    [InlineData(
        "\"id\": \"a\", \"lab\": [40, 2, 3],\n\"densityGramsPerCm3\": 1200",
        "inks.json(3): densityGramsPerCm3: 1200 g/cm3, 0.7 to 3 is possible"
    )]
    [InlineData(
        "\"id\": \"a\", \"lab\": [40, 2, 3],\n\"formula\": [{\"name\": \"Red\", \"percent\": 18}, {\"name\": \"Base\", \"percent\": 80}]",
        "inks.json(3): formula: the parts add up to 980 g/kg (98 %), 1000 g/kg are needed; add 20 g/kg, usually of the clear base"
    )]
    [InlineData(
        "\"id\": \"a\", \"lab\": [40, 2, 3],\n\"formula\": [{\"name\": \"Red\", \"percent\": 50}, {\"name\": \"red\", \"percent\": 50}]",
        "inks.json(3): formula: Red is there 2 times; add its amounts up"
    )]
    [InlineData(
        "\"id\": \"a\", \"lab\": [40, 2, 3],\n\"target\": {\"lab\": [40, 2, 3],\n\"tolerance\": 50}",
        "inks.json(4): target.tolerance: 50 dE00, 0.1 to 20 is possible; 2 is usual"
    )]
    public void What_makes_no_ink_names_file_line_and_field(string fields, string message)
    {
        var (entries, problems) = InkFileText.Read($"[\n{{{fields}}}]", "inks.json", _ => null);

        Assert.Empty(problems);
        Assert.Equal([message], entries[0].Definition!.Make("inks.json").Problems.Select(p => p.ToString()));
    }

    [Fact]
    public void What_the_desk_keeps_is_read_back_as_it_was()
    {
        var ink = new SimulatedCard(Cloths.Ink("red"), 14).Definition("harbour-red") with
        {
            Name = "Harbour \"red\"",
            VolumeSolids = 0.95,
            Formula = new([new("Red paste", 180.5), new("Clear base", 819.5)]),
            Target = new(new(45, 68, 42), 1.5, ViewingLight.D65),
        };

        var again = InkDefinitionJson.Read(InkDefinitionJson.Write(ink));

        Assert.Equal(InkDefinitionJson.Write(ink), InkDefinitionJson.Write(again));
        Assert.Equal((ink.Measurement, ink.Target, ink.Name), (again.Measurement, again.Target, again.Name));
        Assert.Equal<FormulaPart>(ink.Formula!.Parts, again.Formula!.Parts);
    }

    [Fact]
    public void A_formula_is_scaled_to_what_shall_be_mixed()
    {
        var formula = new InkFormula([new("Red paste", 180), new("Clear base", 820)]);

        Assert.Equal<(string, double)>([("Red paste", 63.0), ("Clear base", 287.0)], formula.For(350));
    }
}
