using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Metals as people remember them: scattered light and half of what a mirrored softbox shows. Art is drawn in such colours, so metals
/// are chosen for the art's colours by it; what an instrument reads is <see cref="InkedCloth.Reflectance"/> alone.
/// </summary>
internal sealed class MirrorLook(MethodPress method) : MethodPress
{
    private const double Share = 0.5;

    public override PressSettings Settings(PressSettings shop) => method.Settings(shop);

    public override InkedCloth On(
        Ground ground,
        ImmutableArray<InkPass> passes,
        PressSettings press,
        Deposit deposit
    ) => new Look(method.On(ground, passes, press, deposit));

    private sealed class Look(InkedCloth cloth) : InkedCloth(cloth.Runs)
    {
        public override Spectrum Reflectance(ulong code, ClothPoint point)
        {
            var scattered = cloth.Reflectance(code, point);
            return cloth.Mirror(code, point) is { } mirror
                ? Spectrum.Combine(scattered, mirror, (s, m) => s + Share * m)
                : scattered;
        }

        public override Spectrum OverBlack(ulong code, ClothPoint point) => cloth.OverBlack(code, point);

        public override double BareFibreShare(ulong code) => cloth.BareFibreShare(code);
    }
}
