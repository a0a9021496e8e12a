using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Tests.Presses.PressBench;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class RunStripTests
{
    private const int Pallets = 10;

    // Two colours that meet in the lower right corner; the upper left has one edge only.
    private static Films Meeting() =>
        Films(
            (Spot("red"), Drawn(Px(40), Px(40), (x, y) => x < Px(30) && y > Px(20))),
            (Spot("royal-blue"), Drawn(Px(40), Px(40), (x, y) => x >= Px(30) && y > Px(20)))
        );

    private static RunStrip Draw(PressSettings press) =>
        RunStrip.Draw(Meeting(), Presses.PressBench.On(Meeting(), White), press, Pallets, ViewingLight.D50, 7, default);

    [Fact]
    public void The_first_shirt_is_the_proof_to_the_byte()
    {
        var films = Meeting();
        var strip = Draw(PressSettings.Automatic);

        var proof = PrintSimulator.Print(
            films,
            Presses.PressBench.On(films, White),
            PressSettings.Automatic,
            Deposit.Expected,
            ViewingLight.D50,
            7
        );

        var perMm = proof.Print.PixelsPerMm;
        var margin = (int)Math.Round(proof.MarginMm * perMm);
        var (left, top) = (margin + (int)(strip.LeftMm * perMm), margin + (int)(strip.TopMm * perMm));
        var size = (int)Math.Round(strip.WindowMm * perMm);
        var (worst, differ) = (0, 0);
        for (var y = 0; y < size; y++)
        for (var x = 0; x < 3 * size; x++)
        {
            var off = Math.Abs(proof.Print.Row(top + y)[3 * left + x] - Cell(strip, 1, size, y)[x]);
            worst = Math.Max(worst, off);
            differ += off > 0 ? 1 : 0;
        }
        Assert.True(
            worst == 0,
            $"{differ} of {3 * size * size} bytes differ, by {worst} at most; {strip.LeftMm} {strip.TopMm}"
        );
    }

    [Fact]
    public void The_spot_is_where_two_screens_meet()
    {
        var strip = Draw(PressSettings.Automatic);

        Assert.InRange(30, strip.LeftMm, strip.LeftMm + strip.WindowMm);
    }

    [Fact]
    public void A_pallet_comes_back_and_the_jitter_does_not()
    {
        var noJitter = Draw(PressSettings.Automatic with { JitterSigmaMm = 0 });
        var jitter = Draw(PressSettings.Automatic with { PalletSigmaMm = 0 });

        Assert.Equal(noJitter.WorstRegisterMm[2], noJitter.WorstRegisterMm[2 + Pallets], 1e-12);
        Assert.NotEqual(noJitter.WorstRegisterMm[2], noJitter.WorstRegisterMm[3], 1e-6);
        Assert.NotEqual(jitter.WorstRegisterMm[2], jitter.WorstRegisterMm[2 + Pallets], 1e-6);
    }

    [Fact]
    public void With_set_up_error_alone_all_shirts_are_the_same_picture()
    {
        var strip = Draw(PressSettings.Automatic with { PalletSigmaMm = 0, JitterSigmaMm = 0 });

        Assert.All(strip.WorstRegisterMm, mm => Assert.Equal(strip.WorstRegisterMm[0], mm, 1e-12));
        var size = (int)Math.Round(strip.WindowMm * strip.Picture.PixelsPerMm);
        for (var shirt = 2; shirt <= RunStrip.Count; shirt++)
        for (var y = 0; y < size; y++)
            Assert.True(Cell(strip, 1, size, y).SequenceEqual(Cell(strip, shirt, size, y)));
    }

    [Fact]
    public void Register_over_many_runs_has_the_spread_the_press_says()
    {
        // Each plate has sigma sqrt(.06^2 + .04^2 + .03^2) = .078 mm, cut at 2.5 sigma; the last shirt of 400 seeds.
        var press = PressSettings.Automatic;
        var squares = 0.0;
        for (ulong seed = 1; seed <= 400; seed++)
        {
            var error = RegisterError.Of(press, seed, 0, ShirtOfRun.Of(24, Pallets, seed));
            squares += error.DxMm * error.DxMm + error.DyMm * error.DyMm;
        }

        Assert.Equal(0.0781, Math.Sqrt(squares / 800), 0.006);
    }

    [Fact]
    public void No_shirt_is_loaded_beyond_the_tolerance()
    {
        for (var number = 1; number <= 500; number++)
        {
            var shirt = ShirtOfRun.Of(number, Pallets, 3);
            Assert.InRange(Math.Abs(shirt.LoadedRightMm), 0, ShirtOfRun.LoadingToleranceMm);
            Assert.InRange(Math.Abs(shirt.LoadedDownMm), 0, ShirtOfRun.LoadingToleranceMm);
            Assert.InRange(Math.Abs(shirt.LoadedDegrees), 0, ShirtOfRun.LoadingToleranceDegrees);
        }
    }

    private static Span<byte> Cell(RunStrip strip, int shirt, int size, int row)
    {
        var (x, y) = (8 + (shirt - 1) % 6 * (size + 8), 8 + (shirt - 1) / 6 * (size + 26 + 16));
        return strip.Picture.Row(y + row).Slice(3 * x, 3 * size);
    }
}
