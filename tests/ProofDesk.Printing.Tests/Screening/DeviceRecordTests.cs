using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Tests.Screening;

public sealed class DeviceRecordTests
{
    private const string Whole = """
        {
          "name": "back room recorder",
          "xDpi": 1440,
          "yDpi": 720,
          "handOver": "dots",
          "mirror": true,
          "largestWidthMm": 330,
          "xStretchPercent": 0.2,
          "yStretchPercent": -0.1,
          "leastDotUm": 35,
          "tonesPercent": [0, 12, 23, 34, 45, 55, 65, 74, 83, 92, 100],
          "frame": { "name": "automatic", "imageFromPalletEdgeMm": 80, "innerWidthMm": 480, "innerHeightMm": 700 }
        }
        """;

    [Fact]
    public void A_whole_record_is_the_device_it_describes_and_comes_back_the_same()
    {
        var record = DeviceRecord.Read(Whole, "device.json");
        var device = record.Device();

        Assert.Equal(1442.88, device.XDpi, 1e-9);
        Assert.Equal(719.28, device.YDpi, 1e-9);
        Assert.Equal((1440, 720), (device.OwnXDpi, device.OwnYDpi));
        Assert.Equal(
            ("automatic", 80.0, 480.0),
            (device.Frame.Name, device.ImageFromPalletEdgeMm, device.Frame.InnerWidthMm)
        );
        Assert.True(device.Mirror);
        Assert.Equal(device, DeviceRecord.Read(record.ToJson(), "again").Device());
    }

    [Theory]
    [InlineData(
        "\"xDpi\": 1440",
        "\"xDpi\": 100",
        "device.json, field xDpi: 100 dpi is given; 300 to 5080 is possible"
    )]
    [InlineData("\"dots\"", "\"both\"", "device.json, field handOver: \"both\" is given; it is \"dots\" or \"tones\"")]
    [InlineData(
        "\"xStretchPercent\": 0.2",
        "\"xStretchPercent\": 20",
        "device.json, field xStretchPercent: 20 % is given; -2 to 2 is possible"
    )]
    [InlineData("[0, 12,", "[0,", "device.json, field tonesPercent: 10 numbers are given; a wedge has 11 steps")]
    [InlineData(
        "12, 23",
        "23, 12",
        "device.json, field tonesPercent: the step at 20 % measures 12 %, the one before 23: each must be darker by 1 % or more"
    )]
    [InlineData(
        "[0, 12",
        "[3, 12",
        "device.json, field tonesPercent: it runs from 3 to 100 %; it must run from 0 to 100"
    )]
    [InlineData(
        "\"innerWidthMm\": 480",
        "\"markDistanceMm\": 30",
        "device.json, field frame.markDistanceMm: 30 mm is given; 12 to 20 is possible"
    )]
    [InlineData(
        "\"mirror\": true",
        "\"mirror\": 1",
        "device.json, line 6, field $.mirror: not a device that is understood"
    )]
    [InlineData("\"mirror\"", "\"mirrored\"", "device.json, line 6, field $.mirrored: not a device that is understood")]
    public void A_wrong_field_is_named_with_what_is_possible(string right, string wrong, string message)
    {
        var problem = Assert.Throws<RecordProblem>(() =>
            DeviceRecord.Read(Whole.Replace(right, wrong, StringComparison.Ordinal), "device.json")
        );

        Assert.Equal(message, problem.Message);
        Assert.Equal("docs/films.md shows a device and a frame template with all their fields", problem.NextStep);
    }

    [Fact]
    public void What_a_device_makes_of_tones_is_taken_back()
    {
        var tones = new DeviceTones([0, 12, 23, 34, 45, 55, 65, 74, 83, 92, 100]);

        // 45 % comes out where 40 is asked.
        Assert.Equal(Math.Round(0.40 * 255), tones.Asked((byte)Math.Round(0.45 * 255)), 1.0);
        Assert.Equal((0, 255), (tones.Asked(0), tones.Asked(255)));
        for (var t = 1; t < 255; t++)
            Assert.True(tones.Asked((byte)t) <= tones.Asked((byte)(t + 1)));
        Assert.InRange(tones.Asked(1), 1, 254);
    }

    [Fact]
    public void Another_machine_takes_nothing_that_was_measured_on_this_one()
    {
        var device = DeviceRecord.Read(Whole, "device.json").Device();

        var printer = device.Replaced("printer", 720, 720);

        Assert.Equal((720, 720, null, null), (printer.XDpi, printer.OwnXDpi, printer.Tones, printer.LargestWidthMm));
        Assert.Equal(device.Frame, printer.Frame);
    }
}
