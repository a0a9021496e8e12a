using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments.Photographs;
using ProofDesk.Printing.Proofs;
using ProofDesk.Tests.Photographs;

namespace ProofDesk.Printing.Tests.Garments.Photographs;

/// <summary>What is taken from a photograph, held against how the photograph was made.</summary>
public sealed class PhotoReadingTests
{
    private static readonly DrawnPhoto Blue = DrawnPhoto.Usual;

    private static readonly Lazy<(RgbPicture Photo, PhotoReading Reading)> Read = new(() =>
    {
        var photo = Blue.Draw();
        return (photo, PhotoReading.Of(photo, Blue.Marks).Reading!);
    });

    [Fact]
    public void Two_tapes_give_one_scale_and_say_how_far_they_disagree()
    {
        var marks = Blue.Marks with
        {
            Tape = new(new(100, 500), new(600, 500), 500),
            Check = new(new(50, 100), new(50, 508), 400),
        };

        var scale = PhotoScale.Of(marks);

        // 500 px for 500 mm and 408 px for 400 mm: 908 / 900, and (1.02 - 1) / (908 / 900).
        Assert.Equal(908.0 / 900, scale.PixelsPerMm, 9);
        Assert.Equal(100 * 0.02 / (908.0 / 900), scale.DisagreementPercent!.Value, 9);
        Assert.Null(PhotoScale.Of(marks with { Check = null }).DisagreementPercent);
    }

    [Fact]
    public void A_garment_that_leans_is_measured_along_its_own_centre_line()
    {
        var (sin, cos) = Math.SinCos(10 * Math.PI / 180);
        var seam = new PhotoPoint(300, 100);
        var scale = PhotoScale.Of(
            Blue.Marks with
            {
                Tape = new(new(0, 0), new(600, 0), 300),
                Check = null,
                Seam = seam,
                // 10 degrees clockwise as seen: the hem swings to the left.
                Down = new(seam.X - 400 * sin, seam.Y + 400 * cos),
            }
        );

        var below = scale.ToMm(new(seam.X - 200 * sin, seam.Y + 200 * cos));
        var right = scale.ToMm(new(seam.X + 100 * cos, seam.Y + 100 * sin));
        var back = scale.ToPixels(50, 0);

        Assert.Equal(10, scale.LeanDegrees, 9);
        Assert.Equal((0, 100), (Math.Round(below.X, 9), Math.Round(below.Y, 9)));
        Assert.Equal((50, 0), (Math.Round(right.X, 9), Math.Round(right.Y, 9)));
        Assert.Equal((seam.X + 100 * cos, seam.Y + 100 * sin), (back.X, back.Y));
    }

    /// <summary>The corners lie on the table, 5 % outside of the cloth: a tape lies on the cloth.</summary>
    [Fact]
    public void Half_chest_and_length_are_those_of_the_cloth_and_not_of_the_corners()
    {
        var marks = Blue.Marks;
        var wide = marks with
        {
            Area =
            [
                .. new[] { (0.02, 0.02), (0.98, 0.02), (0.98, 0.98), (0.02, 0.98) }.Select(c => new PhotoPoint(
                    c.Item1 * Blue.Width,
                    c.Item2 * Blue.Height
                )),
            ],
        };

        var size = PhotoSize.Of(PhotoReading.Read(Read.Value.Photo, wide));

        Assert.Equal(Blue.RightMm - Blue.LeftMm, size.ChestMm, 4.0);
        Assert.Equal(Blue.BottomMm - marks.Seam.Y / Blue.PixelsPerMm, size.LengthMm, 4.0);
        Assert.Equal(
            new PhotoSize(0, 0),
            PhotoSize.Of(Read.Value.Reading with { Cloth = new(Blue.Width, Blue.Height) })
        );
    }

    [Fact]
    public void Millimetres_and_ground_colour_of_a_known_photograph_come_back()
    {
        var reading = Read.Value.Reading;

        Assert.Empty(reading.Findings);
        Assert.InRange(reading.Scale.PixelsPerMm, 0.99 * Blue.PixelsPerMm, 1.01 * Blue.PixelsPerMm);
        Assert.InRange(Ciede2000.Difference(Blue.Cloth, reading.Light.Ground), 0, 2);
        Assert.InRange(reading.Light.FlatShare, 0.4, 0.95);
    }

    [Fact]
    public void The_light_of_lamp_and_folds_comes_back_without_the_threads()
    {
        var light = Read.Value.Reading.Light;
        var worst = 0.0;

        for (var y = Blue.TopMm + 20; y < Blue.BottomMm - 20; y += 7)
        for (var x = Blue.LeftMm + 20; x < Blue.RightMm - 20; x += 3)
        {
            var read = light.At(x * Blue.PixelsPerMm, y * Blue.PixelsPerMm);
            worst = Math.Max(worst, Math.Abs(read / Blue.LightAt(x, y) - 1));
        }

        // Folds of 15 mm lose a little of their height to the 2.5 mm that threads are averaged over.
        Assert.InRange(worst, 0, 0.06);
    }

    [Fact]
    public void The_mask_leaves_the_table_and_keeps_dark_folds()
    {
        var reading = Read.Value.Reading;
        int At(double xMm, double yMm) => reading.Cloth[(int)(xMm * Blue.PixelsPerMm), (int)(yMm * Blue.PixelsPerMm)];

        var fold = Blue.LeftMm + 0.3 * (Blue.RightMm - Blue.LeftMm) + 15;
        Assert.Equal(255, At(fold, 300));
        Assert.Equal(255, At(Blue.LeftMm + 4, 300));
        Assert.Equal(0, At(Blue.LeftMm - 5, 300));
        Assert.Equal(0, At(Blue.RightMm + 5, 300));
        Assert.Equal(0, At(Blue.LeftMm - 30, 300));
    }

    [Fact]
    public void A_print_has_its_size_and_gets_the_cloths_own_light()
    {
        var (photo, reading) = Read.Value;
        var white = new LinearRgb(0.8, 0.8, 0.8);
        var cloth = Srgb.FromLab(reading.Light.Ground);
        RgbPicture Lay(params LaidPrint[] prints) =>
            WornPhotograph.Lay(photo, reading, cloth, prints, 2, "On a photograph");

        var bare = Lay();
        var printed = Lay((x, y) => Math.Abs(x) <= 100 && y is >= 150 and <= 270 ? (white, 1) : (default, 0));

        var (left, right, top, bottom) = (int.MaxValue, 0, int.MaxValue, 0);
        for (var y = 0; y < photo.Height; y++)
        for (var x = 0; x < photo.Width; x++)
            if (Math.Abs(bare.Row(y)[3 * x] - printed.Row(y)[3 * x]) > 20)
                (left, right, top, bottom) = (
                    Math.Min(left, x),
                    Math.Max(right, x + 1),
                    Math.Min(top, y),
                    Math.Max(bottom, y + 1)
                );
        Assert.InRange((right - left) / Blue.PixelsPerMm, 200 - 2, 200 + 2);
        Assert.InRange((bottom - top) / Blue.PixelsPerMm, 120 - 2, 120 + 2);
        Assert.InRange(top / Blue.PixelsPerMm - Blue.TopMm, 149, 151);
        foreach (var x in new[] { -60.0, 0, 60 })
        {
            var (px, py) = (
                (int)(((Blue.LeftMm + Blue.RightMm) / 2 + x) * Blue.PixelsPerMm),
                (int)((Blue.TopMm + 210) * Blue.PixelsPerMm)
            );
            var seen = Srgb.Decode(printed.Row(py)[3 * px] / 255.0);
            Assert.InRange(
                seen / (0.8 * Blue.LightAt((px + 0.5) / Blue.PixelsPerMm, (py + 0.5) / Blue.PixelsPerMm)),
                0.94,
                1.06
            );
        }
        // The strip that says what it is.
        Assert.InRange(printed.Height - photo.Height, 20, 60);
        Assert.Contains(printed.Row(photo.Height + 16).ToArray(), code => code < 80);
    }

    [Fact]
    public void Cloth_is_brought_to_a_typed_colour_and_what_lies_around_it_is_not()
    {
        var (photo, reading) = Read.Value;
        var red = Srgb.FromLab(new(45, 40, 20));

        var shown = WornPhotograph.Lay(photo, reading, red, [], 2, "x");

        var i = 3 * (photo.Width / 2);
        var mean = new double[3];
        for (var y = 260; y < 300; y++)
        for (var x = 0; x < 30; x++)
        for (var c = 0; c < 3; c++)
            mean[c] += Srgb.Decode(shown.Row(y)[i + 3 * x + c] / 255.0) / 1200;
        var light = Blue.LightAt((Blue.LeftMm + Blue.RightMm) / 2 + 15 / Blue.PixelsPerMm, 300);
        Assert.InRange(
            Ciede2000.Difference(new(45, 40, 20), Srgb.ToLab(new(mean[0] / light, mean[1] / light, mean[2] / light))),
            0,
            2.5
        );
        Assert.Equal(photo.Row(20)[..30].ToArray(), shown.Row(20)[..30].ToArray());
    }

    [Fact]
    public void Folds_move_a_print_by_less_than_the_limit_and_flat_cloth_moves_nothing()
    {
        var flat = Blue with { Fold = 0 };
        var deep = Blue with { Fold = 0.6 };

        var still = PhotoReading.Read(flat.Draw(), flat.Marks).Folds.FurthestMm;
        var some = Read.Value.Reading.Folds.FurthestMm;
        var most = PhotoReading.Read(deep.Draw(), deep.Marks).Folds.FurthestMm;

        Assert.InRange(still, 0, 0.1);
        Assert.InRange(some, 0.3, 3.2);
        Assert.InRange(most, some, PhotoFolds.MostMm);
    }

    [Fact]
    public void The_same_photograph_and_marks_give_the_same_bytes()
    {
        var (photo, reading) = Read.Value;
        var again = PhotoReading.Read(Blue.Draw(), Blue.Marks);
        var cloth = Srgb.FromLab(reading.Light.Ground);
        LaidPrint print = (x, _) => (new(0.5, 0.1, 0.1), Math.Abs(x) < 80 ? 1 : 0);

        var first = WornPhotograph.Lay(photo, reading, cloth, [print], 2, "x");
        var second = WornPhotograph.Lay(photo, again, cloth, [print], 2, "x");

        Assert.Equal(first.Pixels, second.Pixels);
    }

    [Fact]
    public void A_photograph_that_cannot_serve_is_refused_in_words_with_numbers()
    {
        var dark = Blue with { Exposure = 0.004 };
        var burnt = Blue with { Exposure = 6 };
        var pattern = Blue with { PatternMm = 40 };
        var small = Blue.Marks with { Tape = Blue.Marks.Tape with { Mm = 700 }, Check = null };
        var aslant = Blue.Marks with { Check = Blue.Marks.Check! with { Mm = 450 } };
        var low = Blue.Marks with { Area = [new(300, 300), new(380, 300), new(380, 390), new(300, 390)] };

        Assert.Equal(
            "the photograph has 0.57 pixels a mm, at least 0.8 are needed; photograph it so that it fills the picture, or send the picture as large as the camera made it",
            Refusal(Blue, small)
        );
        Assert.Equal(
            "the two tapes disagree by 10.1 %, 8 is the most: the camera looked at the garment from the side, or one tape is wrong; perspective is not corrected; check both lengths, then photograph again from straight above or straight in front",
            Refusal(Blue, aslant)
        );
        Assert.Equal(
            "the marked area is 89 x 100 mm, at least 100 mm each way are needed to tell folds from the lamp; mark the whole garment, not only the place of the print",
            Refusal(Blue, low)
        );
        Assert.Equal(
            "half of the marked area is darker than 3 of 255, 12 is needed: its folds cannot be told from noise; photograph it with more light, or with the camera set one or two stops brighter",
            Refusal(dark, dark.Marks)
        );
        Assert.Equal(
            "96 % of the marked area is burnt out, 10 % is the most: no fold is left in it; photograph it with the camera set one stop darker, without flash",
            Refusal(burnt, burnt.Marks)
        );
        Assert.Matches(
            "^only [0-9]{1,2} % of the marked area has one colour, 50 % is needed: no plain garment is found there; mark the garment only, and take one without a print or pattern$",
            Refusal(pattern, pattern.Marks, "photo-no-plain-cloth")
        );
    }

    [Fact]
    public void Marks_that_measure_nothing_are_refused_all_at_once()
    {
        var marks = new PhotoMarks(
            new(new(10, 10), new(60, 10), 500),
            new(new(10, 10), new(300, 10), 5),
            new(10, 10),
            new(10, 40),
            [new(0, 0), new(9, 9)],
            null
        );

        var (reading, findings) = PhotoReading.Of(new RgbPicture(700, 800, 1), marks);

        Assert.Null(reading);
        Assert.Equal(
            [
                "the tape is 50 px long, at least 120 are needed for a scale that a pixel does not change by a percent",
                "the second tape is 5 mm long, 20 to 3000 can be",
                "the centre line is 30 px long, at least 80 are needed for its direction",
                "the area has 2 corners, at least 3 that are not on one line are needed",
            ],
            findings.Select(f => f.Message)
        );
    }

    /// <summary>The first refusal, or that of a code: a loud pattern is burnt out here and there as well.</summary>
    private static string Refusal(DrawnPhoto photo, PhotoMarks marks, string? code = null)
    {
        var (_, findings) = PhotoReading.Of(photo.Draw(), marks);
        var finding = findings.First(f => f.Weight == FindingWeight.Refusal && (code is null || f.Code == code));
        return $"{finding.Message}; {finding.NextStep}";
    }
}
