using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Tests.Screening;

public sealed class ThresholdArrayTests
{
    [Theory]
    [InlineData(DotShape.Round)]
    [InlineData(DotShape.Euclidean)]
    [InlineData(DotShape.Elliptical)]
    [InlineData(DotShape.Line)]
    [InlineData(DotShape.Square)]
    public void Every_tone_inks_its_share_of_the_supercell_to_one_pixel(DotShape dot)
    {
        // physics H13: histogram flat, mean tone of each level = level +- 1/N.
        var array = ThresholdArray.For(new(55, 22.5, dot), 1440, 1440);
        var n = array.Tile.Levels;

        var inkFrom = new int[ThresholdTile.Solid];
        for (var y = 0; y < array.Tile.Height; y++)
        for (var x = 0; x < array.Tile.Width; x++)
            inkFrom[array.Tile[x, y]]++;

        Assert.All(inkFrom, count => Assert.InRange(count, 0, 1));
        for (var tone = 0; tone <= 255; tone++)
            Assert.InRange(
                inkFrom.AsSpan(0, tone * ThresholdTile.StepsPerTone).ToArray().Sum(),
                tone * n / 255.0 - 0.5,
                tone * n / 255.0 + 0.5
            );
    }

    [Theory]
    [InlineData(720, 720, 55, 22.5)]
    [InlineData(1440, 1440, 55, 22.5)]
    [InlineData(1440, 720, 45, 52.5)]
    [InlineData(2540, 2540, 35, 7.5)]
    public void The_array_repeats_along_both_sides_of_the_supercell(double xDpi, double yDpi, double lpi, double angle)
    {
        // physics H13: autocorrelation peak at (a, b).
        var array = ThresholdArray.For(new(lpi, angle, DotShape.Round), xDpi, yDpi);
        var (cell, tile) = (array.Cell, array.Tile);

        for (var y = 0; y < 50; y++)
        for (var x = 0; x < 50; x++)
        {
            Assert.Equal(tile[x + 5000, y + 5000], tile[x + 5000 + cell.Ax, y + 5000 + cell.Ay]);
            Assert.Equal(tile[x + 5000, y + 5000], tile[x + 5000 + cell.Bx, y + 5000 + cell.By]);
        }
    }

    [Fact]
    public void At_720_dpi_the_12_5_cell_has_a_period_of_13_px_at_22_6199_degrees()
    {
        // physics H15: 5-12-13 triangle.
        var array = ThresholdArray.For(new(720.0 / 13, 22.6199, DotShape.Round), 720, 720);

        Assert.Equal((1, 12, -5), (array.Cell.Cells, array.Cell.Ax, array.Cell.Ay));
        Assert.Equal(720.0 / 13, array.TrueLinesPerInch, 12);
        Assert.Equal(22.6199, array.TrueAngleDegrees, 4);
        Assert.Equal(169, array.Tile.Levels);
    }

    [Fact]
    public void At_1440_dpi_55_lpi_and_22_5_degrees_four_by_four_cells_come_nearest()
    {
        // physics 1.13: 4x (97,40) 54.90/22.41.
        var array = ThresholdArray.For(new(55, 22.5, DotShape.Round), 1440, 1440);

        Assert.Equal((4, 97, -40), (array.Cell.Cells, array.Cell.Ax, array.Cell.Ay));
        Assert.Equal(54.90, array.TrueLinesPerInch, 2);
        Assert.Equal(22.41, array.TrueAngleDegrees, 2);
    }

    [Theory]
    [InlineData(7.5)]
    [InlineData(22.5)]
    [InlineData(45)]
    [InlineData(52.5)]
    [InlineData(82.5)]
    [InlineData(105)]
    [InlineData(0)]
    public void Usual_screens_come_within_a_third_of_a_degree_and_half_a_percent(double angle)
    {
        foreach (var dpi in new[] { 720, 1200, 1440, 2540 })
        foreach (var lpi in new[] { 35, 45, 55, 65 })
        {
            var array = ThresholdArray.For(new(lpi, angle, DotShape.Elliptical), dpi, dpi);

            Assert.InRange(array.TrueAngleDegrees, angle - 1 / 3.0, angle + 1 / 3.0);
            Assert.InRange(array.TrueLinesPerInch, lpi * 0.995, lpi * 1.005);
        }
    }

    [Theory]
    [InlineData(1, 26, 3, 55.02, 6.58)]
    [InlineData(3, 78, 10, 54.93, 7.31)]
    [InlineData(4, 97, 40, 54.90, 22.41)]
    [InlineData(3, 48, 62, 55.10, 52.25)]
    [InlineData(3, 10, 78, 54.93, 82.69)]
    public void Supercells_have_the_published_rulings_and_angles(int cells, int a, int b, double lpi, double degrees)
    {
        // physics 1.13, at 1440 dpi.
        var ruling = new Supercell(cells, a, -b, b, a).Ruling(1440, 1440);

        Assert.Equal((lpi, degrees), (Math.Round(ruling.LinesPerInch, 2), Math.Round(ruling.AngleDegrees, 2)));
    }

    [Fact]
    public void Unequal_resolutions_keep_the_angle_and_ruling_in_inches()
    {
        var array = ThresholdArray.For(new(45, 22.5, DotShape.Round), 1440, 720);

        Assert.Equal(45, array.TrueLinesPerInch, 0.3);
        Assert.Equal(22.5, array.TrueAngleDegrees, 0.5);
    }

    [Theory]
    [InlineData(600, 45, 178)]
    [InlineData(720, 65, 123)]
    [InlineData(1440, 55, 686)]
    [InlineData(2400, 35, 4703)]
    public void One_cell_shows_as_many_tones_as_it_has_pixels_and_one(double dpi, double lpi, int tones) =>
        // physics 1.13: floor((dpi / lpi)^2) + 1.
        Assert.Equal(tones, ThresholdArray.Tones(lpi, dpi, dpi));

    [Fact]
    public void A_screen_finer_than_the_device_is_refused()
    {
        var refused = Assert.Throws<ArgumentException>(() => ThresholdArray.For(new(55, 0, DotShape.Round), 100, 100));

        Assert.Equal(
            "a screen of 55 lpi needs at least 2 device pixels a line; the device has 100 x 100 dpi",
            refused.Message
        );
    }
}
