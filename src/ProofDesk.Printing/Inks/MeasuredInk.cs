using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// A shop's ink from one film over black and over white ([PHYSICS] 4.3). K and S come from <see cref="TwoBackgrounds"/>; bands
/// in which the film hides the card come from tints in white when there are some, else from their neighbours, and are listed.
/// </summary>
public static class MeasuredInk
{
    /// <summary>Films hiding less or more than this give uncertain numbers ([PHYSICS] 4.3, 6).</summary>
    private const double BestFrom = 0.75;
    private const double BestTo = 0.95;

    /// <param name="plain">The ink apart from its optics: name, kind, solids, density. Its convention is kept.</param>
    public static InkReading Of(Drawdown drawdown, Ink plain, string file, ImmutableArray<string> warnings)
    {
        var said = warnings.ToBuilder();
        var (filmUm, dataClass) = Film(drawdown, plain, said);
        // The film is stored with the surface our stacks are computed with; the instrument decides only what it let in of it.
        var seen =
            plain.Convention == OpticalConvention.None
                ? plain.Convention
                : plain.Convention with
                {
                    Ki = drawdown.InstrumentKi,
                };
        var bands = TwoBackgrounds.Bands(
            drawdown.OverBlack,
            drawdown.OverWhite,
            drawdown.Black,
            drawdown.White,
            filmUm,
            seen
        );
        var opaque = Enumerable.Range(0, Spectrum.Bands).Where(i => bands[i] is null).ToArray();
        if (!drawdown.Tints.IsEmpty)
            bands = TintLadder.Filled(bands, drawdown, plain, seen, said);
        if (bands.All(band => band is null))
            return InkReading.Failed(
                new InkProblem(
                    "hides-everything",
                    file,
                    drawdown.Lines[0],
                    "SAMPLE_NAME",
                    "the film looks the same over black and over white in every band, so its scattering cannot be found; measure a thinner film, one that hides 75 to 95 %, or a 10 % tint in white as well"
                )
            );
        var left = opaque.Where(i => bands[i] is null).ToArray();
        if (left.Length > 0)
            said.Add(
                $"the film hides the card at {Ranges(left)}: scattering there is taken from the bands beside it; a film half as thick or a 10 % tint in white would measure it"
            );
        Contrast(drawdown, opaque.Length > 0, said);
        if (plain.Kind == InkKind.WaterBased)
        {
            said.Add("measured as a film, but printed inside the cloth: the colour on cloth is less certain");
            dataClass = DataClass.B;
        }
        var (k, s) = TwoBackgrounds.Filled(bands, drawdown.OverBlack, drawdown.White, filmUm, seen);
        var ink = plain with
        {
            // No film is perfectly clear ([PHYSICS] 4.1); noise may say so.
            AbsorptionPerUm = k.Map(value => Math.Max(1e-7, value)),
            ScatteringPerUm = s.Map(value => Math.Max(1e-7, value)),
            DataClass = dataClass,
            Source = $"the shop's own measurement over black and white, {file}",
        };
        return new(ink, [], said.ToImmutable());
    }

    private static (double Um, DataClass Class) Film(Drawdown drawdown, Ink plain, ImmutableArray<string>.Builder said)
    {
        if (drawdown.FilmUm is { } um)
            return (um, DataClass.A);
        // One pass is the unit then. We say how thick we take the pass of that mesh to be, so that the same mesh prints the same
        // colour whatever the true thickness is, and another mesh scales with its ink volume.
        var mesh = drawdown.Mesh ?? Meshes.Spot(plain.Kind);
        var pass = DepositModel.FilmUm(mesh, plain, PressSettings.Automatic, 1, onFlashedBase: false, Deposit.Expected);
        said.Add(
            drawdown.Mesh is null
                ? $"{DrawdownKeywords.ThicknessKeyword} and {DrawdownKeywords.MeshKeyword} are not given: the film is taken as one pass of mesh {mesh.Label}, data class B"
                : FormattableString.Invariant(
                    $"{DrawdownKeywords.ThicknessKeyword} is not given: the film is taken as one pass of mesh {mesh.Label}, {pass:0.0} um"
                )
        );
        return (pass, drawdown.Mesh is null ? DataClass.B : DataClass.A);
    }

    private static void Contrast(Drawdown drawdown, bool opaqueSomewhere, ImmutableArray<string>.Builder said)
    {
        double Y(Spectrum s) => Tristimulus.Of(s, ViewingLight.D65).Y;
        var ratio = Y(drawdown.OverBlack) / Y(drawdown.OverWhite);
        // A saturated ink hides some bands long before it hides the card: a thicker film would lose more of them.
        if (ratio > BestTo || ratio < BestFrom && !opaqueSomewhere)
            said.Add(
                FormattableString.Invariant(
                    $"the film hides {100 * ratio:0} % of the card, 75 to 95 % measures best; {(ratio < BestFrom ? "a thicker film" : "a thinner film")} would be surer"
                )
            );
    }

    /// <summary>"380 to 560 nm, 600 nm".</summary>
    internal static string Ranges(int[] bands)
    {
        var words = new List<string>();
        for (var i = 0; i < bands.Length; i++)
        {
            var from = i;
            while (i + 1 < bands.Length && bands[i + 1] == bands[i] + 1)
                i++;
            words.Add(
                from == i
                    ? $"{Spectrum.Nanometres(bands[i])} nm"
                    : $"{Spectrum.Nanometres(bands[from])} to {Spectrum.Nanometres(bands[i])} nm"
            );
        }
        return string.Join(", ", words);
    }
}
