using CsCheck;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

/// <summary>Word-parallel kernels against pixel-by-pixel ones on random planes, widths around whole words included.</summary>
public sealed class BitKernelTests
{
    private static readonly Gen<BitPlane> Planes =
        from width in Gen.Frequency(
            (1, Gen.Int[0, 6].Select(i => new[] { 1, 63, 64, 65, 128, 320, 1100 }[i])),
            (2, Gen.Int[1, 400])
        )
        from height in Gen.Int[1, 20]
        from share in Gen.Int[0, 10]
        from run in Gen.Int[1, 12]
        from seed in Gen.ULong
        select TestPlanes.Noise(width, height, share / 10.0, run, seed);

    [Fact]
    public void Dilation_erosion_and_opening_are_those_of_the_definition()
    {
        var gen =
            from plane in Planes
            from squaredRadius in Gen.Int[0, 40]
            select (plane, Disc.Within(Math.Sqrt(squaredRadius)));

        gen.Sample(
            (plane, disc) =>
            {
                Same(plane, (x, y) => Any(plane, disc, x, y), Morphology.Dilate(plane, disc));
                var eroded = Morphology.Erode(plane, disc);
                Same(plane, (x, y) => All(plane, disc, x, y), eroded);
                Same(plane, (x, y) => Any(eroded, disc, x, y), Morphology.Open(plane, disc));
            },
            iter: 60
        );
    }

    [Fact]
    public void Discs_that_share_their_rows_join_what_each_joins_alone()
    {
        var plane = TestPlanes.Noise(1100, 40, 0.5, 30, 7);
        var largest = Disc.Within(5);
        var (grown, shrunk) = (new DiscRows(), new DiscRows());
        var row = new ulong[plane.Stride];

        grown.LoadForDilation(plane, 10, 20, largest);
        shrunk.LoadForErosion(plane, 10, 20, largest);

        for (var disc = Disc.Within(0); disc.SquaredRadius <= largest.SquaredRadius; disc = disc.Next())
        {
            var (dilated, eroded) = (Morphology.Dilate(plane, disc), Morphology.Erode(plane, disc));
            for (var y = 0; y < 20; y++)
            {
                grown.Dilated(y, disc, row);
                Assert.Equal(dilated.Row(10 + y).ToArray(), row);
                shrunk.Eroded(y, disc, row);
                Assert.Equal(eroded.Row(10 + y).ToArray(), row);
            }
        }
    }

    [Fact]
    public void Bands_with_a_halo_dilate_like_the_whole()
    {
        var plane = TestPlanes.Noise(130, 60, 0.3, 5, 1);
        var disc = Disc.Within(4);
        var whole = Morphology.Dilate(plane, disc);
        var halo = new BitPlane(130, 20 + 2 * disc.Reach);
        for (var y = 0; y < halo.Height; y++)
            plane.Row(20 - disc.Reach + y).CopyTo(halo.Row(y));
        var band = new BitPlane(130, 20);

        Morphology.Dilate(halo, band, disc.Reach, disc);

        Same(band, (x, y) => whole[x, 20 + y], band);
    }

    [Fact]
    public void A_plate_out_of_register_shows_the_pixels_the_map_names()
    {
        var gen =
            from plane in Planes
            from dx in Gen.Double[-70, 70]
            from dy in Gen.Double[-8, 8]
            from turn in Gen.Double[-0.02, 0.02]
            from stretchX in Gen.Double[0.99, 1.01]
            from stretchY in Gen.Double[0.99, 1.01]
            select (
                plane,
                PlaneShift.Register(dx, dy, turn, stretchX, stretchY, plane.Width / 2.0, plane.Height / 2.0)
            );

        gen.Sample(
            (plane, shift) =>
            {
                var print = new BitPlane(plane.Width, plane.Height);

                shift.Fetch(plane, 0, print, 0);

                Same(
                    print,
                    (x, y) =>
                    {
                        var (dx, dy) = shift.Offset(x, y);
                        return Ink(plane, x + dx, y + dy);
                    },
                    print
                );
            },
            iter: 100
        );
    }

    [Fact]
    public void Register_moves_turns_and_stretches_around_the_centre()
    {
        var shift = PlaneShift.Register(10, -5, 0.01, 1.002, 0.999, 500, 400);

        // The film pixel that the moved centre shows is the centre; one 100 px right of it lies 100 / 1.002 px right of
        // the centre, turned back.
        Assert.Equal((500.0, 400.0), (Math.Round(Film(510, 395).X, 9), Math.Round(Film(510, 395).Y, 9)));
        Assert.Equal(500 + 100 * Math.Cos(0.01) / 1.002, Film(610, 395).X, 9);
        Assert.Equal(400 - 100 * Math.Sin(0.01) / 0.999, Film(610, 395).Y, 9);

        (double X, double Y) Film(double x, double y) =>
            (x + shift.Dx + shift.Dxx * x + shift.Dxy * y, y + shift.Dy + shift.Dyx * x + shift.Dyy * y);
    }

    [Fact]
    public void The_rows_a_band_out_of_register_needs_are_the_rows_it_reads()
    {
        var plane = TestPlanes.Noise(300, 200, 0.5, 9, 4);
        var shift = PlaneShift.Register(3, 7.3, 0.02, 1, 1, 150, 100);
        var whole = new BitPlane(300, 200);
        shift.Fetch(plane, 0, whole, 0);
        var (first, last) = shift.FilmRows(50, 40, 300);
        var film = new BitPlane(300, last - first + 1);
        for (var y = 0; y < film.Height; y++)
            plane.Row(first + y).CopyTo(film.Row(y));
        var band = new BitPlane(300, 40);

        shift.Fetch(film, first, band, 50);

        Same(band, (x, y) => whole[x, 50 + y], band);
    }

    [Fact]
    public void Box_averages_count_every_pixel_once()
    {
        var gen =
            from plane in Planes
            from width in Gen.Int[1, 90]
            from height in Gen.Int[1, 9]
            select (plane, width, height);

        gen.Sample(
            (plane, width, height) =>
            {
                var average = BitAverage.Boxes(plane, width, height);

                for (var by = 0; by < average.Height; by++)
                for (var bx = 0; bx < average.Width; bx++)
                {
                    int ink = 0,
                        pixels = 0;
                    for (var y = by * height; y < Math.Min(plane.Height, (by + 1) * height); y++)
                    for (var x = bx * width; x < Math.Min(plane.Width, (bx + 1) * width); x++, pixels++)
                        ink += plane[x, y] ? 1 : 0;
                    Assert.Equal((ink * 255 + pixels / 2) / pixels, average[bx, by]);
                }
            },
            iter: 60
        );
    }

    [Fact]
    public void Rows_of_bits_move_copy_fill_and_count_like_single_pixels()
    {
        var gen =
            from plane in Planes
            from first in Gen.Int[0, plane.Width]
            from end in Gen.Int[0, plane.Width]
            from dx in Gen.Int[-450, 450]
            select (plane, first, end, dx);

        gen.Sample(
            (plane, first, end, dx) =>
            {
                var moved = new BitPlane(plane.Width, plane.Height);
                for (var y = 0; y < plane.Height; y++)
                    BitRows.Move(plane.Row(y), moved.Row(y), plane.Width, dx);
                Same(moved, (x, y) => Ink(plane, x - dx, y), moved);

                var filled = new BitPlane(plane.Width, 1);
                BitRows.FillRun(filled.Row(0), first, end);
                Same(filled, (x, _) => x >= first && x < end, filled);

                long ink = 0;
                Each(plane, (x, y) => ink += plane[x, y] ? 1 : 0);
                Assert.Equal(ink, BitRows.CountInk(plane));
            },
            iter: 100
        );
    }

    private static bool Ink(BitPlane plane, int x, int y) =>
        x >= 0 && x < plane.Width && y >= 0 && y < plane.Height && plane[x, y];

    private static bool Any(BitPlane plane, Disc disc, int x, int y) =>
        Within(disc).Any(d => Ink(plane, x + d.X, y + d.Y));

    private static bool All(BitPlane plane, Disc disc, int x, int y) =>
        Within(disc).All(d => Ink(plane, x + d.X, y + d.Y));

    private static IEnumerable<(int X, int Y)> Within(Disc disc) =>
        from dy in Enumerable.Range(-disc.Reach, 2 * disc.Reach + 1)
        from dx in Enumerable.Range(-disc.Reach, 2 * disc.Reach + 1)
        where dx * dx + dy * dy <= disc.SquaredRadius
        select (dx, dy);

    private static void Each(BitPlane plane, Action<int, int> pixel)
    {
        for (var y = 0; y < plane.Height; y++)
        for (var x = 0; x < plane.Width; x++)
            pixel(x, y);
    }

    /// <summary>Same pixels, and nothing beyond the width.</summary>
    private static void Same(BitPlane size, Func<int, int, bool> expected, BitPlane actual)
    {
        var wanted = new BitPlane(size.Width, size.Height);
        Each(wanted, (x, y) => wanted[x, y] = expected(x, y));
        Assert.Equal(wanted.Words, actual.Words);
    }
}
