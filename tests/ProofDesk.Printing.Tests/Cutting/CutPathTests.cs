using System.Globalization;
using System.Text.RegularExpressions;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Cutting;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Tests.Methods;
using ProofDesk.Printing.Tests.Presses;
using ProofDesk.Printing.Tests.Screening;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Cutting;

/// <summary>Cut paths against the film bits they come from, judged by another program's renderer.</summary>
public sealed partial class CutPathTests
{
    private const double PxPerMm = PressBench.PxPerMm;

    /// <summary>A ring with an island in it, and a star: curves, corners, a hole.</summary>
    private static TestArt RingAndStar =>
        new TestArt(900, 600)
            .Disc("#d0202e", 300, 300, 290)
            .Disc("#ffffff", 300, 300, 200)
            .Disc("#d0202e", 300, 300, 90)
            .Star("#d0202e", 750, 200, 145, 60);

    private static StoredFilm Stored(BitPlane bits) => new StoredFilm(PressBench.Spot("red"), bits, 55, 0);

    [Fact]
    public void A_square_with_a_hole_is_two_lines()
    {
        var bits = PressBench.Drawn(
            300,
            300,
            (x, y) => x is >= 50 and < 250 && y is >= 60 and < 240 && !(x is >= 100 and < 150 && y is >= 100 and < 150)
        );

        var contours = ContourTracer.Trace(Stored(bits), OutputDevice.Fallback, 0.02);

        Assert.Equal([false, true], contours.Select(c => c.IsHole));
        Assert.Equal(200 * 180 / PxPerMm / PxPerMm, contours[0].AreaMm2, 0.06);
        Assert.Equal(50 * 50 / PxPerMm / PxPerMm, contours[1].AreaMm2, 0.06);
    }

    [Fact]
    public void Ink_that_meets_at_a_corner_is_two_pieces_and_ink_at_the_border_ends_there()
    {
        var bits = PressBench.Drawn(128, 128, (x, y) => x < 64 == y < 64);

        var layer = CutLayer.Of(ContourTracer.Trace(Stored(bits), OutputDevice.Fallback, 0.02));

        Assert.Equal(2, layer.Pieces.Count());
        Assert.All(layer.Pieces, p => Assert.Equal(64 * 64 / PxPerMm / PxPerMm, p.AreaMm2, 0.025));
    }

    [Fact]
    public void Every_path_stays_within_a_twentieth_of_a_millimetre_of_the_bits()
    {
        var film = CutJobs.Vinyl.SeparationOf(RingAndStar, 90, PressBench.Black).Films().Plates[0];
        var bits = new BitPlane(film.Width, film.Height);
        film.ReadRows(0, bits);

        foreach (var contour in ContourTracer.Trace(film, OutputDevice.Fallback, VinylFiles.ToleranceMm))
            for (var i = 0; i < contour.Points.Length; i++)
            {
                var (a, b) = (contour.Points[i], contour.Points[(i + 1) % contour.Points.Length]);
                for (var t = 0.0; t < 1; t += 0.25)
                    Assert.True(
                        NearEdge(bits, a.X + t * (b.X - a.X), a.Y + t * (b.Y - a.Y), 0.05 * PxPerMm),
                        $"({a.X:0.00}, {a.Y:0.00}) to ({b.X:0.00}, {b.Y:0.00})"
                    );
            }
    }

    [SkippableFact]
    public void Another_program_draws_the_area_of_the_plate_mirrored()
    {
        var proof = CutJobs.Vinyl.Prove(RingAndStar, 90, PressBench.Black);
        using var folder = new OutsidePrograms.Folder();
        var red = proof.Films.Plates.IndexOf(proof.Films.Plates.First(p => p.Plate.Ink.Name == "Red"));
        var svg = CutJobs
            .Vinyl.Production(proof)
            .OfType<ProductionText>()
            .First(f => f.Name == $"cut-paths/{red + 1:00}-red.svg")
            .Text;

        File.WriteAllText(folder["cut.svg"], Notes().Replace(svg, ""));
        OutsidePrograms.Run("rsvg-convert", "-d", "508", "-p", "508", folder["cut.svg"], "-o", folder["cut.png"]);
        OutsidePrograms.Run("vips", "extract_band", folder["cut.png"], folder["alpha.v"], "3");
        double Mean(string file) =>
            double.Parse(OutsidePrograms.Run("vips", "avg", folder[file]).Trim(), CultureInfo.InvariantCulture) / 255;
        var (width, height) = (Size("width"), Size("height"));
        int Size(string field) =>
            int.Parse(
                OutsidePrograms.Run("vipsheader", "-f", field, folder["alpha.v"]).Trim(),
                CultureInfo.InvariantCulture
            );
        OutsidePrograms.Run("vips", "crop", folder["alpha.v"], folder["left.v"], "0", "0", $"{width / 2}", $"{height}");

        var cm2 = Mean("alpha.v") * width * height / 20 / 20 / 100;
        Assert.InRange(cm2 / proof.Measures[red].AreaCm2, 0.995, 1.005);
        // In the print the ring is on the left, the smaller star on the right; the knife sees it the other way round.
        var left = Mean("left.v") * (width / 2) * height / 20 / 20 / 100;
        Assert.True(left < cm2 / 2, $"{left:0.00} of {cm2:0.00} cm2 on the left");
    }

    [Fact]
    public void Pieces_holes_and_islands_are_counted()
    {
        var proof = CutJobs.Vinyl.Prove(RingAndStar, 90, PressBench.Red with { Colour = PressBench.White.Colour });

        var csv = CutJobs.Vinyl.Production(proof).OfType<ProductionText>().First(f => f.Name == "weeding.csv").Text;

        Assert.StartsWith(
            "layer,sheet,pieces,holes,islands,pieces under 2 mm,smallest piece mm,smallest hole mm,cut m,",
            csv,
            StringComparison.Ordinal
        );
        Assert.Contains("\r\n1,Red,3,1,1,0,", csv, StringComparison.Ordinal);
    }

    [GeneratedRegex("<g id=\"(register-marks|notes)\".*</g>|<rect id=\"weeding-box.*/>")]
    private static partial Regex Notes();

    private static bool NearEdge(BitPlane bits, double xMm, double yMm, double reach)
    {
        bool Ink(int x, int y) => x >= 0 && y >= 0 && x < bits.Width && y < bits.Height && bits[x, y];
        var (px, py) = (xMm * PxPerMm, yMm * PxPerMm);
        var (seen, blank) = (false, false);
        for (var y = (int)Math.Floor(py - reach); y <= py + reach; y++)
        for (var x = (int)Math.Floor(px - reach); x <= px + reach; x++)
        {
            var (dx, dy) = (x + 0.5 - px, y + 0.5 - py);
            if (dx * dx + dy * dy > (reach + 0.71) * (reach + 0.71))
                continue;
            (seen, blank) = (seen || Ink(x, y), blank || !Ink(x, y));
        }
        return seen && blank;
    }
}
