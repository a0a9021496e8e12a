using System.Security.Cryptography;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Tests.Proofs.SmallPlates;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class FilmMeasureTests
{
    private static readonly OutputDevice Device = OutputDevice.Fallback with { XDpi = 254, YDpi = 254 };

    [Fact]
    public void The_digest_is_that_of_the_rows_packed_leftmost_pixel_highest()
    {
        // 10 px: 1 0 0 0 0 0 0 1  1 0, then 0 1 0 0 0 0 0 0  0 1.
        var bits = new BitPlane(10, 2);
        foreach (var (x, y) in ((int, int)[])[(0, 0), (7, 0), (8, 0), (1, 1), (9, 1)])
            bits[x, y] = true;
        var film = new StoredFilm(Plate("p", 10, 2, (_, _) => 0), bits, 35, 22.5);

        var measure = FilmMeasure.Of(film, Device);

        byte[] packed = [0b1000_0001, 0b1000_0000, 0b0100_0000, 0b0100_0000];
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(packed)), measure.Sha256);
        Assert.Equal((5, 20), (measure.InkPixels, measure.Pixels));
        Assert.Equal(25, measure.CoveragePercent);
        // A pixel is 0.1 mm square: 5 of them are 0.05 mm2.
        Assert.Equal(0.0005, measure.AreaCm2, 1e-12);
    }

    [Fact]
    public void One_flipped_bit_is_another_digest()
    {
        var plate = Plate("p", 400, 300, (x, _) => (byte)(x / 2));
        var film = Films(Device, plate).Plates[0];
        var bits = Rows(film.ReadRows, film.Width, film.Height);
        var same = FilmMeasure.Of(new StoredFilm(plate, bits, 35, 22.5), Device);
        bits[500, 400] = !bits[500, 400];

        var other = FilmMeasure.Of(new StoredFilm(plate, bits, 35, 22.5), Device);

        Assert.Equal(FilmMeasure.Of(film, Device).Sha256, same.Sha256);
        Assert.NotEqual(same.Sha256, other.Sha256);
    }

    [Fact]
    public void Where_the_device_makes_the_dots_the_tones_are_bound()
    {
        var theirs = Device with { HandOver = HandOver.DotsTheirs };
        var plate = Plate("p", 40, 30, (x, _) => (byte)(x * 6));

        var measure = FilmMeasure.Of(Films(theirs, plate).Plates[0], theirs);

        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(plate.Tone.Pixels)), measure.Sha256);
    }
}
