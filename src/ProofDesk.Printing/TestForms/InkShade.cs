using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>How dark an ink is by itself: luminance of a film that hides everything ([KUBELKA-MUNK-1931], Rinf).</summary>
internal static class InkShade
{
    public static double Of(Ink ink) =>
        Tristimulus
            .Of(
                Spectrum.Combine(
                    ink.AbsorptionPerUm,
                    ink.ScatteringPerUm,
                    (k, s) => s > 0 ? KubelkaMunk.Rinf(k / s) : 0
                ),
                ViewingLight.D50
            )
            .Y;
}
