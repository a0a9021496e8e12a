using System.Net;

namespace ProofDesk.Web.Tests;

/// <summary>The loupe: a spot of the print, of the print half way, and of one film.</summary>
[Collection(OneServer.Name)]
public sealed class LoupeTests(RunningServer server)
{
    /// <summary>The tests' films are written at 300 dpi.</summary>
    private const int PixelsOfThreeMm = 35;

    [Fact]
    public async Task The_bits_of_a_film_are_black_and_white_at_film_resolution()
    {
        var version = await server.RenderedVersionAsync("bits");

        // The edge of the mark's disc: both film and clear film are in the square.
        using var film = await LookAsync(version, "x=5&y=3.3&mm=3&film=1");
        using var other = await LookAsync(version, "x=15&y=15&mm=3&film=2");

        Assert.Equal((PixelsOfThreeMm, PixelsOfThreeMm), (film.Width, film.Height));
        using var grey = film.ExtractBand(0);
        using var histogram = grey.HistFind();
        var counts = Enumerable.Range(0, 256).Select(v => (int)histogram.Getpoint(v, 0)[0]).ToArray();
        Assert.Equal(film.Width * film.Height, counts[0] + counts[255]);
        Assert.True(counts[0] > 50 && counts[255] > 50, $"{counts[0]} black and {counts[255]} clear pixels");
        Assert.Equal(255, other.Avg());
    }

    [Fact]
    public async Task Before_the_first_screen_there_is_cloth_and_after_the_last_the_print()
    {
        var version = await server.RenderedVersionAsync("half way");

        using var cloth = await LookAsync(version, "x=15&y=15&mm=3&after=0");
        using var first = await LookAsync(version, "x=15&y=15&mm=3&after=1");
        using var last = await LookAsync(version, "x=15&y=15&mm=3&after=2");
        using var print = await LookAsync(version, "x=15&y=15&mm=3");

        // A disc of red ink on white cloth: green falls when the ink has printed.
        Assert.True(Green(cloth) > 180 && Green(first) < 110, $"{Green(cloth):0} on cloth, {Green(first):0} after red");
        Assert.Equal(print.WriteToMemory<byte>(), last.WriteToMemory<byte>());
    }

    [Fact]
    public async Task What_is_not_there_is_not_found()
    {
        var version = await server.RenderedVersionAsync("not there");
        foreach (var what in new[] { "film=0", "film=3", "after=3", "after=-1", "mm=0", "mm=40", "mm=NaN" })
        {
            var answer = await server.Staff.GetAsync(Address(version, $"x=15&y=15&{what}"));

            Assert.True(answer.Status == HttpStatusCode.NotFound, $"{what} answered {answer.Status}");
        }
    }

    [Fact]
    public async Task A_spot_outside_the_print_is_moved_to_its_edge()
    {
        var version = await server.RenderedVersionAsync("outside");

        using var seen = await LookAsync(version, "x=-50&y=9999&mm=3&film=1");

        Assert.Equal((PixelsOfThreeMm, PixelsOfThreeMm), (seen.Width, seen.Height));
    }

    private async Task<NetVips.Image> LookAsync(Guid version, string what)
    {
        var answer = await server.Staff.GetAsync(Address(version, what));
        Assert.Equal(HttpStatusCode.OK, answer.Status);
        return NetVips.Image.NewFromBuffer(answer.Bytes);
    }

    private static string Address(Guid version, string what) =>
        $"/versions/{version}/loupe.png?print=left-chest&ground=tee%2Fwhite&{what}";

    private static double Green(NetVips.Image picture)
    {
        using var green = picture.ExtractBand(1);
        return green.Avg();
    }
}
