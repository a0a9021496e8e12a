using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>One ground with the plates that run there: forward model and gamut.</summary>
internal sealed record TonalGround(Ground Ground, PlateModel Model, PrintGamut Gamut)
{
    /// <summary>
    /// The light of the proof, and of the art, whose sRGB white is D65. Plates solved for the light they are compared in
    /// carry no error of adaptation.
    /// </summary>
    public const ViewingLight Light = ViewingLight.D65;

    public static TonalGround Of(TonalJob job, int index)
    {
        var ground = job.Grounds[index];
        var model = ModelOf(job, index, quick: false);
        var costs = InkCosts.Of(job);
        var cloth = CieLab.FromXyz(Tristimulus.Of(Brightener.Radiance(ground.Colour), Light), Light);
        return new(
            ground,
            model,
            PrintGamut.Of(
                () => new CoverageSolver([model], [1], costs),
                job.Plates.Length,
                job.FullWhites(index),
                ClothShows.ByDefault(new(0, 0, 0), cloth),
                ClothShows.IsPale(cloth)
            )
        );
    }

    public static PlateModel ModelOf(TonalJob job, int index, bool quick)
    {
        var ground = job.Grounds[index];
        var press = job.Method.Press.Settings(job.Settings.Press);
        var runs = job.RunsOn(index);
        var passesOf = new ulong[job.Plates.Length];
        var passes = new InkPass[runs.Length];
        for (var i = 0; i < runs.Length; i++)
        {
            var plate = job.Plates[runs[i].Plate];
            passesOf[runs[i].Plate] |= 1UL << i;
            passes[i] = new(plate.Ink, plate.Mesh, plate.Strokes, runs[i].FlashAfter);
        }
        var inks = job.Method.Press.On(ground, [.. passes], press, Deposit.Expected);
        var screen = job.Plates[^1].Screen;
        return PlateModel.Of(
            inks,
            [.. passesOf],
            OpticalGain.YuleNielsenN(ground, null, screen.LinesPerInch),
            job.InStep ? HeldInStep(press, screen) : 0,
            Light,
            quick
        );
    }

    /// <summary>
    /// How much of dot-on-dot register leaves: the screens' lattices are shifted against each other by a normal error of
    /// sqrt(2) sigma each way, which scales the fundamental of their overlap by exp(-2 pi^2 sigma^2 / period^2), the
    /// characteristic function of that error.
    /// </summary>
    public static double HeldInStep(PressSettings press, Screen screen)
    {
        var sigma = Math.Sqrt(2) * RegisterError.Sigma(press);
        var period = 25.4 / screen.LinesPerInch;
        var held = Math.Exp(-2 * Math.PI * Math.PI * sigma * sigma / (period * period));
        return held > 0.999 ? 1 : held;
    }
}
