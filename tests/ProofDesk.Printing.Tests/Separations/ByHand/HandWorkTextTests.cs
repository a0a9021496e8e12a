using System.Text.Json;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;

namespace ProofDesk.Printing.Tests.Separations.ByHand;

public class HandWorkTextTests
{
    private static readonly PlateEdit Everything = new("White base")
    {
        Wedge = [0, 0.05, 0.14, 0.25, 0.36, 0.47, 0.58, 0.69, 0.8, 0.91, 1],
        SpreadUm = -120.5,
        AngleDegrees = 52.5,
        LinesPerInch = 45,
        Dot = DotShape.Round,
        Mesh = "77-55",
        WeakTones = WeakTones.Hold,
        Strokes = 2,
        FlashAfter = false,
        KeepOut = [new(10, 20.25, 30, 8)],
    };

    private static string[] Problems(string json) => [.. HandWorkText.Read(json, "by-hand.json").Problems];

    [Fact]
    public void What_is_written_is_read_again()
    {
        var work = new HandWork([Everything, new("Red") { SpreadUm = 80 }]);

        var (read, problems) = HandWorkText.Read(HandWorkJson.Write(work), "by-hand.json");

        Assert.Empty(problems);
        Assert.Equal(work, read);
        Assert.Equal(Everything.Wedge.ToArray(), read.Plates[0].Wedge.ToArray());
        Assert.Equal(Everything.KeepOut.ToArray(), read.Plates[0].KeepOut.ToArray());
        Assert.Equal(Everything with { Wedge = [], KeepOut = [] }, read.Plates[0] with { Wedge = [], KeepOut = [] });
    }

    [Fact]
    public void Only_what_changes_is_written()
    {
        var work = new HandWork([
            new("Black") { Wedge = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1] },
            new("Red") { SpreadUm = 80 },
        ]);

        Assert.Equal(
            """
            {
              "plates": [
                {
                  "plate": "Red",
                  "spreadUm": 80
                }
              ]
            }

            """.ReplaceLineEndings("\n"),
            HandWorkJson.Write(work)
        );
    }

    [Fact]
    public void A_wedge_as_it_was_and_a_spread_of_nothing_change_nothing()
    {
        var work = new HandWork([
            new("Red") { Wedge = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1], SpreadUm = 0 },
        ]);

        Assert.True(work.IsNone);
        Assert.Equal(HandWork.None, work);
        Assert.False(new HandWork([new("Red") { Strokes = 2 }]).IsNone);
    }

    [Fact]
    public void Everything_wrong_is_said_at_once_with_file_line_and_plate()
    {
        var problems = Problems(
            """
            {
              // what the printer asked for
              "plates": [
                { "plate": "Red",
                  "wedgePercent": [0, 10, 20, 30, 40, 50, 60, 70, 80, 90],
                  "spreadUm": 700 },
                { "plate": "Black", "dot": "diamond", "angle": 30, "linesPerInch": 200 },
                { "spreadUm": 20 },
                { "plate": "red", "strokes": 1.5 },
                { "plate": "White base",
                  "wedgePercent": [0, 10, 20, 30, 40, 35, 60, 70, 80, 90, 120],
                  "mesh": "fine", "flashAfter": "yes", "angleDegrees": 200, "weakTones": 3,
                  "keepOut": [ { "xMm": -3, "yMm": 0, "widthMm": 0, "heightMm": 5 } ] },
                { "plate": "Blue", "keepOut": [ { "xMm": 3 } ], "strokes": 9, "spreadUm": "wide", "mesh": 90 }
              ]
            }
            """
        );

        Assert.Equal(
            [
                "by-hand.json, line 5, plate 'Red': the wedge has 10 steps, 11 are needed (0, 10, ... 100 %)",
                "by-hand.json, line 6, plate 'Red': a spread of 700 um, -500 (choke) to 500 um are possible",
                "by-hand.json, line 7, plate 'Black': there is no field 'angle'; there are plate, wedgePercent, spreadUm, angleDegrees, linesPerInch, dot, mesh, weakTones, strokes, flashAfter, keepOut",
                "by-hand.json, line 7, plate 'Black': 'dot' is one of round, euclidean, elliptical, line, square, stochastic; the text \"diamond\" given",
                "by-hand.json, line 7, plate 'Black': a ruling of 200 lpi, 10 to 150 are possible",
                "by-hand.json, line 8: an entry does not say which plate it changes; the field 'plate' has its name",
                "by-hand.json, line 9, plate 'red': 'strokes' is a whole number; 1.5 given",
                "by-hand.json, line 9, plate 'red': it stands in the list twice; write all of its changes in one place",
                "by-hand.json, line 11, plate 'White base': the wedge falls from 40 % at 40 % to 35 % at 50 %; each step is at least as dark as the one before it",
                "by-hand.json, line 11, plate 'White base': the wedge has 120 % at 100 %, 0 to 100 % fit on a film",
                "by-hand.json, line 12, plate 'White base': 'weakTones' is one of cut, hold; 3 given",
                "by-hand.json, line 12, plate 'White base': 'flashAfter' is true or false; the text \"yes\" given",
                "by-hand.json, line 12, plate 'White base': an angle of 200 degrees, 0 to 180 are possible",
                "by-hand.json, line 12, plate 'White base': 'fine' is no mesh; write threads per cm and thread in um, such as 24-140, 32-100, 43-80, 48-70, 61-64, 77-55, 90-48, 90-40, 120-34, 140-31",
                "by-hand.json, line 13, plate 'White base': rectangle 1 begins at -3, 0 mm; both are measured from the print's top left corner, 0 to 2000 mm",
                "by-hand.json, line 13, plate 'White base': rectangle 1 is 0 x 5 mm; both are more than 0 and at most 2000 mm",
                "by-hand.json, line 14, plate 'Blue': 'keepOut' is a list of rectangles in mm from the print's top left corner, such as { \"xMm\": 10, \"yMm\": 20, \"widthMm\": 30, \"heightMm\": 8 }",
                "by-hand.json, line 14, plate 'Blue': 'spreadUm' is a number; the text \"wide\" given",
                "by-hand.json, line 14, plate 'Blue': 'mesh' is a text in quotes; 90 given",
                "by-hand.json, line 14, plate 'Blue': 9 strokes, 1 to 4 are possible",
            ],
            problems
        );
    }

    [Theory]
    [InlineData(
        "{ \"plates\": [ }",
        "by-hand.json, line 1: the text is not JSON from here on; look for a missing comma, quote or bracket"
    )]
    [InlineData(
        "[]",
        "by-hand.json, line 1: a list of plates is expected, such as { \"plates\": [ { \"plate\": \"White base\", \"spreadUm\": -100 } ] }"
    )]
    [InlineData("{ \"plates\": [], \"films\": 3 }", "by-hand.json, line 1: there is no field 'films' beside 'plates'")]
    [InlineData(
        "{ \"plates\": [ { \"plate\": \"Red\", \"wedgePercent\": [0, \"much\"] } ] }",
        "by-hand.json, line 1, plate 'Red': 'wedgePercent' is a list of 11 numbers, such as [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100]; a list of 2 given"
    )]
    public void A_file_that_is_something_else_is_told_what_it_should_be(string json, string problem) =>
        Assert.Equal([problem], Problems(json));

    [Fact]
    public void More_dots_per_inch_are_possible_where_the_dots_are_stochastic()
    {
        Assert.Empty(
            Problems("{ \"plates\": [ { \"plate\": \"Red\", \"dot\": \"stochastic\", \"linesPerInch\": 300 } ] }")
        );
        Assert.Equal(
            ["by-hand.json, line 1, plate 'Red': 500 stochastic dots per inch, 10 to 425 are possible"],
            Problems("{ \"plates\": [ { \"plate\": \"Red\", \"dot\": \"stochastic\", \"linesPerInch\": 500 } ] }")
        );
    }

    [Fact]
    public void It_stands_inside_another_text_as_it_stands_alone()
    {
        var work = new HandWork([Everything]);

        var inside = JsonSerializer.Serialize(new { HandWork = work });
        var read = JsonSerializer.Deserialize<Dictionary<string, HandWork>>(inside)!["HandWork"];

        Assert.Equal(work, read);
        var problem = Assert.Throws<JsonException>(() =>
            JsonSerializer.Deserialize<HandWork>("{ \"plates\": [ { \"plate\": \"Red\", \"spreadUm\": 900 } ] }")
        );
        Assert.Equal(
            "hand work, line 1, plate 'Red': a spread of 900 um, -500 (choke) to 500 um are possible",
            problem.Message
        );
    }
}
