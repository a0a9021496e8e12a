using System.Text;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Measurements;

namespace ProofDesk.Imaging.Tests.Measurements;

/// <summary>
/// Measurement files, among them the offset characterisation data of the Debian package icc-profiles-free (zlib licence,
/// credited to K.-U. Behrmann), read where the package puts them and not copied.
/// </summary>
public sealed class CgatsTextTests
{
    private const string Folder = "/usr/share/color/icc";

    [SkippableTheory]
    [InlineData("FOGRA28L")]
    [InlineData("FOGRA29L")]
    [InlineData("FOGRA30L")]
    [InlineData("FOGRA39L")]
    [InlineData("FOGRA40L")]
    [InlineData("TR002")]
    [InlineData("TR003")]
    [InlineData("TR005")]
    [InlineData("TR006")]
    public void A_published_file_written_and_read_again_is_the_same_table(string name)
    {
        var table = Packaged(name);

        var again = CgatsText.Read(CgatsText.Write(table));

        Assert.Equal(string.Join("|", table.Fields), string.Join("|", again.Fields));
        Assert.Equal(table.Rows.Length, again.Rows.Length);
        Assert.All(table.Rows.Zip(again.Rows), pair => Assert.True(pair.First.SequenceEqual(pair.Second)));
        Assert.True(table.Rows.Length >= 928, $"{table.Rows.Length} patches");
    }

    // F4: the charts of colord (CC0 or GPL), which have no measurements yet, and the spectra of its test colours.
    [SkippableTheory]
    [InlineData("ti1/printer-short.ti1", "RGB_R", 30)]
    [InlineData("ti1/printer-normal.ti1", "RGB_R", 100)]
    [InlineData("ti1/printer-long.ti1", "RGB_R", 200)]
    [InlineData("ref/CIE-TCS.sp", "SPEC_555", 15)]
    public void Charts_and_spectra_of_another_project_are_read(string file, string field, int atLeast)
    {
        var path = Path.Combine("/usr/share/colord", file);
        Skip.IfNot(File.Exists(path), $"{file} is not installed (Debian: colord-data)");

        var table = CgatsText.Read(File.ReadAllText(path, Encoding.Latin1));

        Assert.True(table.Rows.Length >= atLeast, $"{table.Rows.Length} rows");
        for (var row = 0; row < table.Rows.Length; row++)
            Assert.InRange(table.Number(row, field), 0, 100);
        var again = CgatsText.Read(CgatsText.Write(table));
        Assert.All(table.Rows.Zip(again.Rows), pair => Assert.True(pair.First.SequenceEqual(pair.Second)));
    }

    // F8: the reference medium gamut of the perceptual intent, 642 corners; sRGB's own corners lie inside it or hardly outside.
    [SkippableFact]
    public void The_reference_medium_gamut_is_read_and_holds_white_and_most_of_sRGB()
    {
        const string path = "/usr/share/color/argyll/ref/RefMediumGamut.gam";
        Skip.IfNot(File.Exists(path), "RefMediumGamut.gam is not installed (Debian: argyll-ref)");

        var table = CgatsText.Read(File.ReadAllText(path));

        var corners = Enumerable
            .Range(0, table.Rows.Length)
            .Select(i => new Lab(table.Number(i, "LAB_L"), table.Number(i, "LAB_A"), table.Number(i, "LAB_B")))
            .ToArray();
        Assert.Equal(642, corners.Length);
        // Darkest and lightest of the medium: L* 3.1373 and 100 ([ICC-1], from memory).
        Assert.Equal(3.1, corners.Min(c => c.L), 0.5);
        Assert.Equal(100, corners.Max(c => c.L), 0.5);
        foreach (var (r, g, b) in new[] { (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 1.0, 0.0) })
        {
            var colour = Srgb.ToLab(new LinearRgb(r, g, b));
            var most = corners.Where(c => Math.Abs(Hue(c) - Hue(colour)) < 12).Max(c => c.Chroma);
            Assert.InRange(colour.Chroma / most, 0.5, 1.4);
        }

        static double Hue(Lab c) => Math.Atan2(c.B, c.A) * 180 / Math.PI;
    }

    // Lab recomputed from the file's own XYZ; the figures are those of an independent computation.
    [SkippableFact]
    public void The_coated_offset_data_agree_with_themselves()
    {
        var table = Packaged("FOGRA39L");
        var white = new Xyz(96.422, 100, 82.521);

        var off = Enumerable
            .Range(0, table.Rows.Length)
            .Select(row =>
            {
                double Of(string field) => table.Number(row, field);
                var (x, y, z) = (
                    CieLab.F(Of("XYZ_X") / white.X),
                    CieLab.F(Of("XYZ_Y") / white.Y),
                    CieLab.F(Of("XYZ_Z") / white.Z)
                );
                var (l, a, b) = (116 * y - 16 - Of("LAB_L"), 500 * (x - y) - Of("LAB_A"), 200 * (y - z) - Of("LAB_B"));
                return Math.Sqrt(l * l + a * a + b * b);
            })
            .ToArray();

        Assert.Equal(1617, off.Length);
        Assert.Equal(0.033, off.Average(), 0.01);
        Assert.Equal(0.268, off.Max(), 0.01);
    }

    // Tone value by the channel each ink absorbs; expected gains computed independently from the same files.
    [SkippableTheory]
    [InlineData("FOGRA39L", 11.4, 13.7, 14.4, 17.2)]
    [InlineData("FOGRA29L", 16.6, 18.9, 19.9, 22.3)]
    public void Single_ink_ramps_have_the_published_gain_at_half_tone(
        string name,
        double cyan,
        double magenta,
        double yellow,
        double black
    )
    {
        var table = Packaged(name);

        Assert.Equal(cyan, Gain(table, "CMYK_C", "XYZ_X"), 0.2);
        Assert.Equal(magenta, Gain(table, "CMYK_M", "XYZ_Y"), 0.2);
        Assert.Equal(yellow, Gain(table, "CMYK_Y", "XYZ_Z"), 0.2);
        Assert.Equal(black, Gain(table, "CMYK_K", "XYZ_Y"), 0.2);
    }

    [SkippableTheory]
    [InlineData(10, 8.525)]
    [InlineData(40, 37.823)]
    [InlineData(55, 54.275)]
    [InlineData(70, 71.107)]
    public void The_magenta_ramp_has_its_spot_colour_tone_values(double tone, double expected)
    {
        var ramp = Ramp(Packaged("FOGRA39L"), "CMYK_M");

        var value = SpotColourToneValue.Of(ramp[0], ramp[100], ramp[tone], ViewingLight.D50);

        Assert.Equal(expected, 100 * value, 0.01);
    }

    [Theory]
    [InlineData(
        "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50 2\nEND_DATA",
        "line 6: 3 values in this row, the format has 2 fields"
    )]
    [InlineData(
        "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50\n2\n3 40\nEND_DATA",
        "line 7: 1 values in this row, the format has 2 fields"
    )]
    [InlineData(
        "CGATS.17\nBEGIN_DATA_FORMAT\nA B C\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\n3 4\nEND_DATA",
        "line 8: 4 values before END_DATA do not fill rows of 3 fields"
    )]
    [InlineData(
        "CGATS.17\nBEGIN_DATA_FORMAT\nLAB_L\nEND_DATA_FORMAT\nBEGIN_DATA\n50",
        "line 6: the text ends before END_DATA"
    )]
    [InlineData("hello", "line 1: no field names between BEGIN_DATA_FORMAT and END_DATA_FORMAT")]
    [InlineData("DESCRIPTOR \"open", "line 1: a quotation mark is not closed")]
    [InlineData(
        "BEGIN_DATA_FORMAT\nLAB_L\nEND_DATA_FORMAT\nNUMBER_OF_SETS 2\nBEGIN_DATA\n50\nEND_DATA",
        "line 7: NUMBER_OF_SETS says 2, 1 rows are there"
    )]
    public void A_broken_file_names_line_and_problem(string text, string message) =>
        Assert.Equal(message, Assert.Throws<CgatsException>(() => CgatsText.Read(text)).Message);

    [Fact]
    public void A_value_that_is_no_number_names_row_and_field()
    {
        var table = CgatsText.Read(
            "X\nBEGIN_DATA_FORMAT\nLAB_L\tLAB_A\nEND_DATA_FORMAT\nBEGIN_DATA\n50\t1\n\"51\" bright # note\nEND_DATA   \n"
        );

        Assert.Equal(51, table.Number(1, "LAB_L"));
        Assert.Equal(
            "line 7: row 2, field LAB_A: \"bright\" is not a number",
            Assert.Throws<CgatsException>(() => table.Number(1, "LAB_A")).Message
        );
        Assert.Equal(
            "line 3: no field LAB_B; the table has LAB_L, LAB_A",
            Assert.Throws<CgatsException>(() => table.Number(0, "LAB_B")).Message
        );
    }

    private static double Gain(CgatsTable table, string ink, string channel)
    {
        var ramp = Ramp(table, ink);
        var tones = ramp.Keys.Order().ToArray();
        var above = tones.First(t => t >= 50);
        var below = tones.Last(t => t <= 50);
        var part = above > below ? (50 - below) / (above - below) : 0;
        return Tone(below) + part * (Tone(above) - Tone(below)) - 50;

        double Tone(double t) => 100 * (Of(ramp[0]) - Of(ramp[t])) / (Of(ramp[0]) - Of(ramp[100]));

        double Of(Xyz c) =>
            channel == "XYZ_X" ? c.X
            : channel == "XYZ_Y" ? c.Y
            : c.Z;
    }

    // Patches with one ink only; the first of each tone.
    private static Dictionary<double, Xyz> Ramp(CgatsTable table, string ink)
    {
        string[] inks = ["CMYK_C", "CMYK_M", "CMYK_Y", "CMYK_K"];
        return Enumerable
            .Range(0, table.Rows.Length)
            .Where(row => inks.All(i => i == ink || table.Number(row, i) == 0))
            .GroupBy(row => table.Number(row, ink), row => row)
            .ToDictionary(
                g => g.Key,
                g => new Xyz(
                    table.Number(g.First(), "XYZ_X"),
                    table.Number(g.First(), "XYZ_Y"),
                    table.Number(g.First(), "XYZ_Z")
                )
            );
    }

    private static CgatsTable Packaged(string name)
    {
        var path = Path.Combine(Folder, name + ".ti3");
        Skip.IfNot(File.Exists(path), $"{name}.ti3 is not installed (Debian: icc-profiles-free)");
        return CgatsText.Read(File.ReadAllText(path, Encoding.Latin1));
    }
}
