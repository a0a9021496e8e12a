using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Inks;

/// <summary>What a shop reads when a measurement file cannot be used: file, line, field, what is there, what is needed.</summary>
public sealed class BrokenMeasurementTests
{
    [Theory]
    [InlineData(
        "FILM_THICKNESS_UM \"20\"",
        "FILM_THICKNESS_UM \"0\"",
        "card.txt(6): FILM_THICKNESS_UM: 0 um; above 0 and at most 1000 is possible; write the dry film in um, or unknown"
    )]
    [InlineData(
        "FILM_THICKNESS_UM \"20\"",
        "FILM_THICKNESS_UM \"-3.5\"",
        "card.txt(6): FILM_THICKNESS_UM: -3.5 um; above 0 and at most 1000 is possible; write the dry film in um, or unknown"
    )]
    [InlineData(
        "FILM_THICKNESS_UM \"20\"",
        "FILM_THICKNESS_UM \"thin\"",
        "card.txt(6): FILM_THICKNESS_UM: \"thin\" is not a number; write the dry film in um, or unknown"
    )]
    [InlineData(
        "FILM_THICKNESS_UM \"20\"",
        "FILM_MESH \"coarse\"",
        "card.txt(6): FILM_MESH: \"coarse\"; threads per cm and thread in um, such as 61-64, is possible"
    )]
    [InlineData(
        "\"45/0\"",
        "\"0/30\"",
        "card.txt(4): MEASUREMENT_GEOMETRY: \"0/30\"; 45/0, 0/45 or d/8 specular included is possible"
    )]
    [InlineData(
        "SPECTRAL_NORM \"100\"",
        "SPECTRAL_NORM \"255\"",
        "card.txt(5): SPECTRAL_NORM: \"255\"; 100 for percent or 1 for 0 to 1 is possible"
    )]
    [InlineData(
        "SAMPLE_NAME",
        "NAME_OF_SAMPLE",
        "card.txt(8): SAMPLE_NAME: the field is missing; add it and name the rows over black, over white, black, white"
    )]
    [InlineData(
        "\"over white\"",
        "\"over white card\"",
        "card.txt(8): SAMPLE_NAME: no row is called \"over white\"; 4 rows are there: \"over black\", \"over white card\", \"black\", \"white\"; one each of over black, over white, black, white is needed"
    )]
    [InlineData(
        "\"over white\"",
        "\"over black\"",
        "card.txt(8): SAMPLE_NAME: no row is called \"over white\"; 4 rows are there: \"over black\", \"over black\", \"black\", \"white\"; one each of over black, over white, black, white is needed"
    )]
    [InlineData(
        "\"over white\"",
        "\"over black\"",
        "card.txt(12): SAMPLE_NAME: 2 rows are called \"over black\" (lines 11, 12); keep one, or average them"
    )]
    [InlineData(
        "4.000000\t",
        "4,000000\t",
        "card.txt(13): SPECTRAL_NM380: \"4,000000\" is not a number; write a decimal point, not a comma"
    )]
    [InlineData(
        "4.000000\t",
        "OVERFLOW\t",
        "card.txt(13): SPECTRAL_NM400: \"OVERFLOW\" is not a number; measure or export the row again"
    )]
    [InlineData(
        "4.000000\t",
        "-4.000000\t",
        "card.txt(13): SPECTRAL_NM380: \"black\" reads -4, a reflectance of -0.04; 0 at least is possible (35 values of this row); calibrate and measure again"
    )]
    [InlineData(
        "85.000000\t",
        "125.000000\t",
        "card.txt(14): SPECTRAL_NM380: \"white\" reads 125, a reflectance of 1.25; 1.2 at most is possible without fluorescence (35 values of this row); calibrate and measure again, with the ultraviolet left out"
    )]
    [InlineData(
        "SPECTRAL_NORM \"100\"",
        "SPECTRAL_NORM \"1\"",
        "card.txt(14): SPECTRAL_NM380: \"white\" reads 85, a reflectance of 85; 1.2 at most is possible without fluorescence (36 values of this row); if the values are percent, write SPECTRAL_NORM \"100\""
    )]
    [InlineData(
        "\t4.000000",
        "",
        "card.txt(13): 2 values in this row, the format has 38 fields; export the measurement again as CGATS.17 text"
    )]
    [InlineData(
        "\nEND_DATA\n",
        "\n",
        "card.txt(15): the text ends before END_DATA; export the measurement again as CGATS.17 text"
    )]
    [InlineData(
        "\"over black\"",
        "\"over black",
        "card.txt(11): a quotation mark is not closed; export the measurement again as CGATS.17 text"
    )]
    [InlineData(
        "\tSPECTRAL_NM",
        "\tNM-",
        "card.txt(8): SPECTRAL_NM380: no wavelength columns; the table has SAMPLE_ID, SAMPLE_NAME, NM-380, NM-390, NM-400, NM-410, NM-420, NM-430...; export the spectral reflectances, 400 to 700 nm every 10 nm, or give the ink by the Lab of a solid"
    )]
    [InlineData(
        "SPECTRAL_NM550",
        "REMARK",
        "card.txt(8): SPECTRAL_NM550: 1 of the wavelengths 380 to 730 nm every 10 nm are missing: 550; 400 to 700 nm without a gap is needed"
    )]
    [InlineData(
        "\"black\"",
        "\"tint 130\"",
        "card.txt(13): SAMPLE_NAME: a tint of 130 %; between 0 and 100 % of the ink in white, usually 10, is possible"
    )]
    public void A_broken_file_says_file_line_field_and_what_to_do(string text, string instead, string message)
    {
        var card = new SimulatedCard(Cloths.Ink("orange"), 20);

        var reading = card.Definition(change: whole => Changed(whole, text, instead)).Make("inks.json");

        Assert.Null(reading.Ink);
        Assert.Contains(message, reading.Problems.Select(problem => problem.ToString()));
    }

    [Fact]
    public void Rows_the_wrong_way_round_are_told()
    {
        var card = new SimulatedCard(Cloths.Ink("orange"), 20);
        static string Swapped(string whole, string one, string other) =>
            whole.Replace($"\"{one}\"", "\"?\"").Replace($"\"{other}\"", $"\"{one}\"").Replace("\"?\"", $"\"{other}\"");

        Assert.Equal(
            [
                "card.txt(12): SPECTRAL_NM620: the film over black reflects 0.8453, over white only 0.3107, in 20 of 36 bands; the rows \"over black\" and \"over white\" are swapped",
            ],
            Problems(card, whole => Swapped(whole, "over black", "over white"))
        );
        Assert.Equal(
            [
                "card.txt(13): SAMPLE_NAME: the bare white reflects 0.04 on average, the bare black 0.85; they must be 0.3 apart or more; the two rows are swapped",
            ],
            Problems(card, whole => Swapped(whole, "black", "white"))
        );
    }

    [Fact]
    public void A_film_that_hides_the_card_everywhere_cannot_be_used()
    {
        Assert.Equal(
            [
                "card.txt(11): SAMPLE_NAME: the film looks the same over black and over white in every band, so its scattering cannot be found; measure a thinner film, one that hides 75 to 95 %, or a 10 % tint in white as well",
            ],
            Problems(new SimulatedCard(Cloths.Ink("black"), 40), whole => whole)
        );
    }

    [Fact]
    public void Everything_wrong_with_the_keywords_and_names_is_told_at_once()
    {
        var problems = Problems(
            new SimulatedCard(Cloths.Ink("orange"), 20),
            whole => whole.Replace("\"20\"", "\"-1\"").Replace("\"45/0\"", "\"60\"").Replace("\"black\"", "\"dark\"")
        );

        Assert.Equal(3, problems.Count());
    }

    // A real file of another kind, read where the Debian package icc-profiles-free puts it: carriage returns, blanks after END_DATA.
    [SkippableFact]
    public void A_file_that_measures_something_else_is_read_and_told_what_it_lacks()
    {
        const string File = "/usr/share/color/icc/TR005.ti3";
        Skip.IfNot(System.IO.File.Exists(File), "TR005.ti3 is not installed (Debian: icc-profiles-free)");
        var definition = new InkDefinition("offset", "Offset", InkKind.Plastisol, InkRole.Colour)
        {
            Measurement = new("TR005.ti3", System.IO.File.ReadAllText(File, System.Text.Encoding.Latin1)),
        };

        Assert.Equal(
            [
                "TR005.ti3(29): SPECTRAL_NM380: no wavelength columns; the table has SAMPLE_ID, CMYK_C, CMYK_M, CMYK_Y, CMYK_K, XYZ_X, XYZ_Y, XYZ_Z...; export the spectral reflectances, 400 to 700 nm every 10 nm, or give the ink by the Lab of a solid",
                "TR005.ti3(29): SAMPLE_NAME: the field is missing; add it and name the rows over black, over white, black, white",
            ],
            definition.Make("inks.json").Problems.Select(problem => problem.ToString())
        );
    }

    private static IEnumerable<string> Problems(SimulatedCard card, Func<string, string> change) =>
        card.Definition(change: change).Make("inks.json").Problems.Select(problem => problem.ToString());

    // Changes every place of the row or the one keyword, and fails when there was nothing to change.
    private static string Changed(string whole, string text, string instead)
    {
        Assert.Contains(text, whole, StringComparison.Ordinal);
        return whole.Replace(text, instead, StringComparison.Ordinal);
    }
}
