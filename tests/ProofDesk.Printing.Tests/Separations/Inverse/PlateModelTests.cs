using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

public sealed class PlateModelTests
{
    private static readonly PrintMethod Process = PrintMethods.Find("four-colour-process")!;

    private static (PlateModel Model, TonalJob Job) Of(Ground ground)
    {
        var job = FourColourProcess.Job(Process, [ground], new());
        return (TonalGround.ModelOf(job, 0, false), job);
    }

    private static float[] With(TonalJob job, params (string Plate, float Coverage)[] tones) =>
        [.. job.Plates.Select(p => tones.FirstOrDefault(t => t.Plate == p.Name).Coverage)];

    private static double Tone(Ground ground, float baseWhite, string plate, double coverage)
    {
        var (model, job) = Of(ground);
        var work = new PlateModel.Work(model.Plates);
        double Y(float tone) => model.Xyz(With(job, ("White base", baseWhite), (plate, tone)), work).Y;
        return (Y(0) - Y((float)coverage)) / (Y(0) - Y(1));
    }

    // physics P17: 13 to 16 % at 55 lines on white jersey with a transparent ink, less than 3 % on a white base.
    [Fact]
    public void Optical_gain_is_on_pale_cloth_and_hardly_on_a_base()
    {
        Assert.InRange(Tone(TestGrounds.White, 0, "Process magenta", 0.5) - 0.5, 0.08, 0.16);
        Assert.InRange(Tone(TestGrounds.Black, 1, "Process magenta", 0.5) - 0.5, -0.01, 0.03);
    }

    // Two squares of the same lattice: the smaller lies on the larger, so areas are min, difference and rest; with Demichel's products
    // for what register does not hold.
    [Theory]
    [InlineData(0.6f, 0.25f, 1f)]
    [InlineData(0.25f, 0.6f, 1f)]
    [InlineData(0.5f, 0.5f, 1f)]
    [InlineData(0.6f, 0.25f, 0.4f)]
    public void Two_plates_of_one_screen_lie_on_each_other_among_independent_ones(float one, float other, float held)
    {
        const float third = 0.3f;
        static Xyz Colour(ulong passes) => new(1 + passes, 2 + passes * passes, 3 + 5 * (passes % 3));
        var model = PlateModel.Of([1, 2, 4], passes => (Colour(passes), new(0, 0, 0)), 1, 0, new(0, 2, held));

        var seen = model.Xyz([one, third, other], new(3));

        double wanted = 0;
        foreach (var (plates, area) in Areas())
            wanted += 100 * area * (third * Colour(plates | 2).Y + (1 - third) * Colour(plates).Y);
        Assert.Equal(wanted, seen.Y, 3);

        IEnumerable<(ulong Plates, double Area)> Areas()
        {
            var both = held * Math.Min(one, other) + (1 - held) * one * other;
            yield return (5, both);
            yield return (1, one - both);
            yield return (4, other - both);
            yield return (0, 1 - one - other + both);
        }
    }

    [Fact]
    public void Base_and_black_of_four_colours_on_black_share_a_screen_and_the_slopes_know_it()
    {
        var (model, job) = Of(TestGrounds.Black);
        var work = new PlateModel.Work(model.Plates);
        var stride = model.Plates + 3;
        var slopes = new double[3 * stride];
        float[] at = [0.7f, 0.2f, 0.3f, 0.4f, 0.35f];

        model.At(at, work, slopes, stride);

        for (var plate = 0; plate < at.Length; plate++)
        {
            const float step = 1e-3f;
            float[] more = [.. at],
                less = [.. at];
            (more[plate], less[plate]) = (at[plate] + step, at[plate] - step);
            var (up, down) = (model.At(more, work), model.At(less, work));
            Assert.Equal((up.L - down.L) / (2 * step), slopes[plate], 0.05);
            Assert.Equal((up.A - down.A) / (2 * step), slopes[stride + plate], 0.05);
            Assert.Equal((up.B - down.B) / (2 * step), slopes[2 * stride + plate], 0.05);
        }
        Assert.Equal(job.Plates[0].Screen, job.Plates[^1].Screen);
    }

    // Neugebauer: solids of the model are the solids of the press.
    [Fact]
    public void A_solid_is_what_an_instrument_reads_on_the_press_model()
    {
        var (model, job) = Of(TestGrounds.Red);
        var work = new PlateModel.Work(model.Plates);
        var plan = job.RunsOn(0)
            .Select(r => new InkPass(job.Plates[r.Plate].Ink, job.Plates[r.Plate].Mesh, 1, r.FlashAfter))
            .ToImmutableArray();
        var inks = Process.Press.On(TestGrounds.Red, plan, PressSettings.Automatic, Deposit.Expected);
        var all = model.Xyz([.. job.Plates.Select(_ => 1f)], work);
        var read = Tristimulus.Of(inks.Solid(31), TonalGround.Light);

        Assert.Equal(read.X, all.X, 2);
        Assert.Equal(read.Y, all.Y, 2);
        Assert.Equal(read.Z, all.Z, 2);
    }

    // physics P4: process inks on black without a base vanish; the model must know, or it would print them there.
    [Fact]
    public void Cyan_without_a_base_does_nothing_on_black()
    {
        var (model, job) = Of(TestGrounds.Black);
        var work = new PlateModel.Work(model.Plates);
        Lab Seen(params (string, float)[] tones) =>
            CieLab.FromXyz(model.Xyz(With(job, tones), work), TonalGround.Light);

        Assert.InRange(Ciede2000.Difference(Seen(), Seen(("Process cyan", 1))), 0, 6);
        Assert.InRange(Seen(("White base", 1), ("Process cyan", 1)).Chroma, 35, 70);
    }

    [Fact]
    public void Slopes_are_what_a_small_step_measures()
    {
        var (model, job) = Of(TestGrounds.Grey);
        var work = new PlateModel.Work(model.Plates);
        var slopes = new double[3 * model.Plates];
        float[] at = [.. job.Plates.Select((_, i) => 0.2f + 0.15f * i)];
        model.At(at, work, slopes, model.Plates);
        for (var i = 0; i < at.Length; i++)
        {
            var (up, down) = ((float[])at.Clone(), (float[])at.Clone());
            (up[i], down[i]) = (up[i] + 0.01f, down[i] - 0.01f);
            var (high, low) = (model.At(up, work), model.At(down, work));
            Assert.Equal((high.L - low.L) / 0.02, slopes[i], 0.5);
            Assert.Equal((high.B - low.B) / 0.02, slopes[2 * model.Plates + i], 0.5);
        }
    }

    // A tone of one half prints one half, on an angled screen over bare cloth and in jetted drops, at the press's own growth.
    [Theory]
    [InlineData("four-colour-process", "process-magenta", 0.2)]
    [InlineData("four-colour-process", "process-magenta", 0.5)]
    [InlineData("four-colour-process", "process-magenta", 0.75)]
    [InlineData("direct-to-garment", "jet-magenta", 0.2)]
    [InlineData("direct-to-garment", "jet-magenta", 0.5)]
    [InlineData("direct-to-garment", "jet-magenta", 0.75)]
    public void A_wanted_tone_prints_as_that_area(string methodId, string inkId, double wanted)
    {
        var method = PrintMethods.Find(methodId)!;
        var press = method.Press.Settings(PressSettings.Automatic);
        var (mesh, screen) =
            method.Press is JetPress
                ? (Mesh.None, Screen.Stochastic(DirectToGarment.DotUm, 1))
                : (Meshes.FineHalftone, new Screen(55, 52.5, DotShape.Elliptical));
        var tones = FilmTones.For(screen, mesh, press, onBase: false, WeakTones.Cut);
        var plane = new BytePlane(60, 60);
        plane.Pixels.AsSpan().Fill(tones[(byte)Math.Round(255 * wanted)]);
        var plate = new Plate(
            "Tint",
            PlatePurpose.Process,
            InkLibrary.Find(inkId)!,
            mesh,
            screen,
            plane,
            null,
            plane,
            1,
            false
        );
        var separation = new Separation([plate], [], [], 12, 12, 5, []) { Press = method.Press };
        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        var print = films.PrintOn(TestGrounds.White, PressSettings.Automatic);

        var margin = (int)(print.MarginMm * print.Print.PixelsPerMm);
        var across = (int)(10 * print.Print.PixelsPerMm);
        double sum = 0;
        for (var y = margin + 10; y < margin + across; y++)
        for (var x = margin + 10; x < margin + across; x++)
            sum += print.InkMask[x, y] / 255.0;
        Assert.Equal(wanted, sum / ((across - 10) * (double)(across - 10)), 0.012);
    }
}
