using System.Collections.Immutable;
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

    public static TonalGround Of(TonalJob job, int index) => Of(job, index, ModelOf(job, index, quick: false));

    /// <summary>With a model of this job's plates on this ground that is there already.</summary>
    public static TonalGround Of(TonalJob job, int index, PlateModel model)
    {
        var ground = job.Grounds[index];
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
        var (inks, passesOf) = Inked(job, index);
        var (opticalN, nested) = Dots(job, index);
        return PlateModel.Of(inks, passesOf, opticalN, nested, Light, quick, Pair(job));
    }

    /// <summary>
    /// The first two plates that share a screen although the job's screens are independent: five screens have four angles, and a base
    /// takes that of the ink it meets least. Stochastic dots of one seed never meet so.
    /// </summary>
    private static PlateModel.StepPair? Pair(TonalJob job)
    {
        if (job.InStep)
            return null;
        var press = job.Method.Press.Settings(job.Settings.Press);
        for (var other = 1; other < job.Plates.Length; other++)
        for (var one = 0; one < other; one++)
        {
            var (first, second) = (job.Plates[one].Screen, job.Plates[other].Screen);
            if (!first.IsStochastic && first == second)
                return new(one, other, (float)HeldInStep(press, second));
        }
        return null;
    }

    /// <summary>How the dots of this job's screens lie on this ground: Yule-Nielsen n, and how far they are in step.</summary>
    public static (double OpticalN, double Nested) Dots(TonalJob job, int index)
    {
        var screen = job.Plates[^1].Screen;
        return (
            OpticalGain.YuleNielsenN(job.Grounds[index], null, screen.LinesPerInch),
            job.InStep ? HeldInStep(job.Method.Press.Settings(job.Settings.Press), screen) : 0
        );
    }

    /// <summary>The colours that this job's passes leave on a ground, and which passes each plate has.</summary>
    public static (InkedCloth Inks, ImmutableArray<ulong> PassesOf) Inked(TonalJob job, int index)
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
        return (job.Method.Press.On(ground, [.. passes], press, Deposit.Expected), [.. passesOf]);
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
