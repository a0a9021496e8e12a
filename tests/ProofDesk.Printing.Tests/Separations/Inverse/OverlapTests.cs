using System.Collections.Immutable;
using System.Numerics;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>The model's areas of each combination of inks, against bits counted on the films of the job's own screens.</summary>
public sealed class OverlapTests
{
    private static readonly double[] Tones = [0.3, 0.6, 0.45];

    private static readonly ImmutableArray<Ink> Three =
    [
        .. new[] { "bright-yellow", "red", "royal-blue" }.Select(id => InkLibrary.Find(id)!),
    ];

    public static TheoryData<string, DotPlacement> Jobs =>
        new()
        {
            { "simulated-process", DotPlacement.Lattice },
            { "simulated-process", DotPlacement.Stochastic },
            { "four-colour-process", DotPlacement.Lattice },
            { "four-colour-process", DotPlacement.Stochastic },
            { "direct-to-garment", DotPlacement.Lattice },
        };

    [Theory]
    [MemberData(nameof(Jobs))]
    public void Film_bits_overlap_as_the_model_says(string methodId, DotPlacement dots)
    {
        var job = Job(methodId, new() { Dots = dots });
        var screens = job.Plates.Where(p => !p.IsWhite).Take(3).Select(p => p.Screen).ToArray();
        var counted = Count(screens);
        // Screens in step are counted where register holds: the press takes some of it away, which is another test.
        var model = job.InStep ? Neugebauer.DotOnDot(Tones) : Neugebauer.Demichel(Tones);

        for (var code = 0; code < model.Length; code++)
            Assert.True(
                Math.Abs(counted[code] - model[code]) < 0.02,
                $"inks {code:b3}: {100 * counted[code]:0.0} % of the film, {100 * model[code]:0.0} % in the model"
            );
    }

    [Fact]
    public void Only_screens_of_one_angle_are_solved_dot_on_dot()
    {
        Assert.True(Job("simulated-process", new()).InStep);
        Assert.False(Job("simulated-process", new() { Dots = DotPlacement.Stochastic }).InStep);
        Assert.False(Job("four-colour-process", new()).InStep);
    }

    [Fact]
    public void Stochastic_dots_are_as_large_as_the_mesh_holds_or_as_asked()
    {
        var job = Job("simulated-process", new() { Dots = DotPlacement.Stochastic });
        Assert.All(job.Plates, p => Assert.Equal(p.Mesh.SafeFeatureUm, 25400 / p.Screen.LinesPerInch, 6));
        Assert.Equal(job.Plates.Length, job.Plates.Select(p => p.Screen.Variant).Distinct().Count());
        var own = Job("four-colour-process", new() { Dots = DotPlacement.Stochastic, StochasticDotUm = 90 });
        Assert.All(own.Plates, p => Assert.Equal(90, 25400 / p.Screen.LinesPerInch, 6));
    }

    [Fact]
    public void Process_angles_turn_together()
    {
        var turned = Job("four-colour-process", new() { AngleDegrees = 15 });
        double Angle(string name) => turned.Plates.Single(p => p.Name == name).Screen.AngleDegrees;

        Assert.Equal(15, Angle("Process cyan"), 6);
        Assert.Equal(45, Angle("Process magenta"), 6);
        Assert.Equal(0, Angle("Process yellow"), 6);
        Assert.Equal(75, Angle("Black"), 6);
        Assert.All(
            Job("simulated-process", new() { AngleDegrees = 15 }).Plates,
            p => Assert.Equal(15, p.Screen.AngleDegrees)
        );
    }

    private static TonalJob Job(string methodId, SpotSettings settings)
    {
        var method = PrintMethods.Find(methodId)!;
        return methodId switch
        {
            "simulated-process" => SimulatedProcess.Job(method, [TestGrounds.Black], settings, Three),
            "four-colour-process" => FourColourProcess.Job(method, [TestGrounds.Black], settings),
            _ => DirectToGarment.Job(method, [TestGrounds.Black], settings),
        };
    }

    private static double[] Count(Screen[] screens)
    {
        const int Mm = 40;
        var plates = screens.Select(
            (screen, i) =>
            {
                var tone = new BytePlane(Mm, Mm);
                tone.Pixels.AsSpan().Fill((byte)Math.Round(255 * Tones[i]));
                return new Plate(
                    $"{i}",
                    PlatePurpose.Process,
                    Three[0],
                    Meshes.FineHalftone,
                    screen,
                    tone,
                    null,
                    tone,
                    1,
                    false
                );
            }
        );
        var films = FilmMaker.Screen(new([.. plates], [], [], Mm, Mm, 1, []), OutputDevice.Fallback).Plates;
        var bits = films
            .Select(film =>
            {
                var all = new BitPlane(film.Width, film.Height);
                film.ReadRows(0, all);
                return all;
            })
            .ToArray();
        var counts = new double[1 << bits.Length];
        for (var word = 0; word < bits[0].Words.Length; word++)
        for (var code = 0; code < counts.Length; code++)
        {
            var here = ulong.MaxValue;
            for (var i = 0; i < bits.Length; i++)
                here &= (code >> i & 1) != 0 ? bits[i].Words[word] : ~bits[i].Words[word];
            counts[code] += BitOperations.PopCount(here);
        }
        // Rows are whole words: what lies beyond the width is blank on all.
        counts[0] -= (64.0 * bits[0].Stride - bits[0].Width) * bits[0].Height;
        var sum = counts.Sum();
        return [.. counts.Select(c => c / sum)];
    }
}
