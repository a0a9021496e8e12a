using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Mixed;

public sealed class MixedSeparatorTests
{
    private const double FilmPerMm = 1440 / 25.4;

    private static readonly PrintMethod Method = PrintMethods.Find("simulated-process")!;

    private static readonly ImmutableArray<Ink> Inks =
    [
        InkLibrary.Find("bright-yellow")!,
        InkLibrary.Find("red")!,
        InkLibrary.Find("royal-blue")!,
        InkLibrary.Find("mid-grey")!,
    ];

    private static readonly (double X, double Y)[][] Word = MixedPicture.Letters("RIVER 87", 5, 16, 10);

    private static Separation Separate(SizedArt art, SpotSettings? settings = null, params Ground[] grounds) =>
        Method.Separate(art, Method, grounds.Length == 0 ? [TestGrounds.Black] : [.. grounds], settings ?? new());

    private static SpotSettings Given(FlatAreas flat = FlatAreas.Solid) =>
        new() { Inks = InkChoice.Of(Inks), FlatAreas = flat };

    [Fact]
    public void Letters_are_solid_in_one_ink_over_a_solid_base_and_in_no_other()
    {
        var separation = Separate(MixedPicture.Dusk().Draw(Hex("red"), Word).Sized());

        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        var inside = Inside(films, 0.35);
        foreach (var film in films.Plates)
        {
            var share = Share(film, inside);
            if (film.Plate.Ink.Id == "red" || film.Plate.Purpose.IsBase)
                Assert.True(share == 1, $"{film.Plate.Name} covers {share:p1} of the letters");
            else
                Assert.True(share == 0, $"{film.Plate.Name} prints {share:p1} of the letters");
        }
    }

    // The art's pixel is 4.7 film pixels wide; what is drawn at film resolution is the outline, not the pixels.
    [Fact]
    public void Letters_keep_their_edge_within_a_film_pixel()
    {
        var separation = Separate(MixedPicture.Dusk().Draw(Hex("red"), Word).Sized(), Given());
        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        var red = films.Plates.Single(f => f.Plate.Ink.Id == "red");
        var bits = Bits(red);
        var exact = MixedPicture.Coverage(Word, bits.Width, bits.Height, FilmPerMm);
        var edge = DistanceFromEdge(exact);

        int crossed = 0,
            far = 0;
        for (var y = 0; y < bits.Height; y++)
        for (var x = 0; x < bits.Width; x++)
        {
            // Inside only: outside the red of the picture has dots of its own.
            if (exact[x, y] < 255 || bits[x, y])
                continue;
            crossed++;
            far += edge(x, y) > 1.5 ? 1 : 0;
        }
        var length = Edges(exact);
        Assert.InRange(crossed / (double)length, 0, 0.6);
        Assert.InRange(far / (double)length, 0, 0.04);
    }

    [Fact]
    public void The_painted_part_is_separated_as_if_there_were_no_letters()
    {
        var plain = Separate(MixedPicture.Dusk().Sized(), Given());
        var mixed = Separate(MixedPicture.Dusk().Draw(Hex("red"), Word).Sized(), Given());

        var near = Spread(MixedPicture.Coverage(Word, 720, 576, MixedPicture.PixelsPerMm), 8);
        for (var p = 0; p < plain.Plates.Length; p++)
        {
            var (before, after) = (plain.Plates[p].Tone.Pixels, mixed.Plates[p].Tone.Pixels);
            var off = Enumerable
                .Range(0, before.Length)
                .Where(i => near.Pixels[i] == 0)
                .Select(i => Math.Abs(before[i] - after[i]))
                .ToArray();
            // Letters hide colours, so the table is solved for a few cells less, and neighbours of those for less of a neighbourhood.
            Assert.True(
                off.Average() < 0.1 && off.Max() <= 5,
                $"{plain.Plates[p].Name} differs by {off.Average():0.000} on average and {off.Max()} at most, of 255"
            );
        }
    }

    [Fact]
    public void A_picture_without_flat_areas_is_separated_as_before()
    {
        var one = Separate(PaintedArt.Dusk(), Given());
        var other = Separate(PaintedArt.Dusk(), Given(FlatAreas.Toned));

        Assert.All(one.Plates, p => Assert.Null(p.Solid));
        Assert.Equal(other.Findings.Select(f => f.Message), one.Findings.Select(f => f.Message));
        for (var p = 0; p < one.Plates.Length; p++)
            Assert.Equal(other.Plates[p].Tone.Pixels, one.Plates[p].Tone.Pixels);
    }

    // In the first tenth of a millimetre round the letters no more of the base lies bare than further out.
    [Fact]
    public void No_light_rim_stands_round_the_letters()
    {
        foreach (var hex in new[] { Hex("red"), Hex("bright-yellow") })
        {
            var films = FilmMaker.Screen(
                Separate(MixedPicture.Dusk().Draw(hex, Word).Sized(), Given()),
                OutputDevice.Fallback
            );
            var exact = MixedPicture.Coverage(Word, films.Width, films.Height, FilmPerMm);
            var edge = DistanceFromEdge(exact, 60);
            var planes = films.Plates.Select(Bits).ToArray();
            var (rim, further, rims, furthers) = (0, 0, 0, 0);
            for (var y = 0; y < films.Height; y++)
            for (var x = 0; x < films.Width; x++)
            {
                if (exact[x, y] > 0)
                    continue;
                var distance = edge(x, y);
                if (distance >= 60)
                    continue;
                var bare = planes[0][x, y] && !planes.Skip(1).Any(p => p[x, y]);
                if (distance < 6)
                    (rim, rims) = (rim + 1, rims + (bare ? 1 : 0));
                else if (distance > 20)
                    (further, furthers) = (further + 1, furthers + (bare ? 1 : 0));
            }
            Assert.InRange(rims / (double)rim, 0, furthers / (double)further + 0.02);
        }
    }

    [Fact]
    public void White_letters_are_base_and_highlight_white()
    {
        var separation = Separate(MixedPicture.Dusk().Draw("#ffffff", Word).Sized(), Given());

        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        var inside = Inside(films, 0.1);
        foreach (var film in films.Plates)
            Assert.Equal(film.Plate.Ink.Role == InkRole.White ? 1 : 0, Share(film, inside));
    }

    [Fact]
    public void Black_letters_on_black_cloth_are_left_to_it()
    {
        var separation = Separate(MixedPicture.Dusk().Draw("#000000", Word).Sized(), Given());

        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        Assert.All(films.Plates, film => Assert.Equal(0, Share(film, Inside(films, 0.05))));
        Assert.Equal(
            "#000000 stands flat on 2.6 cm2 and is left to the cloth: no ink there, and no dots at its edges",
            Assert.Single(separation.Findings, f => f.Code == "flat-colour-solid").Message
        );
    }

    [Fact]
    public void A_flat_colour_asks_for_an_ink_and_says_so()
    {
        var separation = Separate(MixedPicture.Dusk().Draw("#3fa86b", Word).Sized());

        Assert.True(
            separation.Plates.Any(p => p.Solid is not null),
            string.Join("; ", separation.Findings.Select(f => f.Message))
        );
        var own = separation.Plates.Single(p => p.Solid is not null && !p.Purpose.IsBase);
        var said = Assert.Single(separation.Findings, f => f.Code == "flat-colour-solid");
        Assert.StartsWith("mix-", own.Ink.Id, StringComparison.Ordinal);
        Assert.Contains(separation.Findings, f => f.Code == "mix-to-match");
        Assert.Matches(
            "^#3fa86b stands flat on 2.6 cm2 and is printed solid in [a-z ]+ over a solid base, [0-3]\\.[0-9] dE00 from the art on black: no dots on it, sharp edges$",
            said.Message
        );
        Assert.Equal("nothing, or ask for flat areas to be toned as well", said.NextStep);
    }

    [Fact]
    public void A_flat_colour_that_no_listed_ink_prints_stays_toned_and_is_named()
    {
        var separation = Separate(MixedPicture.Dusk().Draw("#3fa86b", Word).Sized(), Given());

        Assert.All(separation.Plates, p => Assert.Null(p.Solid));
        Assert.Equal(
            "#3fa86b stands flat on 2.6 cm2, but no ink of this set prints it solid near enough: it is toned like the picture, its edges are made of dots",
            Assert.Single(separation.Findings, f => f.Code == "flat-colour-toned").Message
        );
    }

    [Fact]
    public void Flat_areas_can_be_toned()
    {
        var separation = Separate(MixedPicture.Dusk().Draw(Hex("red"), Word).Sized(), Given(FlatAreas.Toned));

        Assert.All(separation.Plates, p => Assert.Null(p.Solid));
        Assert.DoesNotContain(separation.Findings, f => f.Code.StartsWith("flat-", StringComparison.Ordinal));
    }

    [Fact]
    public void Black_type_in_four_colour_process_is_black_ink_alone()
    {
        var process = PrintMethods.Find("four-colour-process")!;
        var art = MixedPicture.Dusk().Draw("#000000", Word).Sized();

        var films = FilmMaker.Screen(process.Separate(art, process, [TestGrounds.White], new()), OutputDevice.Fallback);

        var inside = Inside(films, 0.35);
        foreach (var film in films.Plates)
            Assert.Equal(film.Plate.Ink.Role == InkRole.Black ? 1 : 0, Share(film, inside));
    }

    /// <summary>What the ink looks like on a base on black: a colour that asks for this ink.</summary>
    private static string Hex(string ink)
    {
        var lab = new Appearance(
            Method.Press,
            new SpotSettings().Press,
            new(InkLibrary.BaseWhite(InkKind.Plastisol), Meshes.HalftoneBase, 1, true),
            false
        ).Of(TestGrounds.Black, InkLibrary.Find(ink)!, Meshes.FineHalftone, true);
        var rgb = ProofDesk.Imaging.Colour.Srgb.FromLab(lab);
        int Code(double v) => (int)Math.Round(255 * ProofDesk.Imaging.Colour.Srgb.Encode(Math.Clamp(v, 0, 1)));
        return $"#{Code(rgb.R):x2}{Code(rgb.G):x2}{Code(rgb.B):x2}";
    }

    /// <summary>Film pixels inside the letters by so many mm.</summary>
    private static List<(int X, int Y)> Inside(Films films, double mm)
    {
        var exact = MixedPicture.Coverage(Word, films.Width, films.Height, FilmPerMm);
        var edge = DistanceFromEdge(exact, 1 + (int)Math.Ceiling(mm * FilmPerMm));
        var inside = new List<(int, int)>();
        for (var y = 0; y < films.Height; y++)
        for (var x = 0; x < films.Width; x++)
            if (exact[x, y] == 255 && edge(x, y) > mm * FilmPerMm)
                inside.Add((x, y));
        return inside;
    }

    private static double Share(Film film, List<(int X, int Y)> where)
    {
        var bits = Bits(film);
        return where.Count(p => bits[p.X, p.Y]) / (double)where.Count;
    }

    private static BitPlane Bits(Film film)
    {
        var bits = new BitPlane(film.Width, film.Height);
        film.ReadRows(0, bits);
        return bits;
    }

    /// <summary>Distance in film pixels, up to a limit, from a pixel to the nearest one on the other side of the edge.</summary>
    private static Func<int, int, double> DistanceFromEdge(BytePlane exact, int limit = 4)
    {
        var distance = EdgeDistance.Of(exact, limit);
        return (x, y) => distance[x, y];
    }

    private static int Edges(BytePlane exact)
    {
        var count = 0;
        for (var y = 0; y < exact.Height; y++)
        for (var x = 1; x < exact.Width; x++)
            count += exact[x, y] >= 128 != exact[x - 1, y] >= 128 ? 1 : 0;
        for (var y = 1; y < exact.Height; y++)
        for (var x = 0; x < exact.Width; x++)
            count += exact[x, y] >= 128 != exact[x, y - 1] >= 128 ? 1 : 0;
        return count;
    }

    private static BytePlane Spread(BytePlane plane, int radius)
    {
        var spread = new BytePlane(plane.Width, plane.Height);
        for (var y = 0; y < plane.Height; y++)
        for (var x = 0; x < plane.Width; x++)
            if (plane[x, y] != 0)
                for (var ny = Math.Max(0, y - radius); ny <= Math.Min(plane.Height - 1, y + radius); ny++)
                    spread.Row(ny)[Math.Max(0, x - radius)..Math.Min(plane.Width, x + radius + 1)].Fill(255);
        return spread;
    }
}
