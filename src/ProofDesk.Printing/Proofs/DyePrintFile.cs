using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// What goes to the transfer printer: one grey picture a dye, mirrored because the paper is turned over onto the cloth,
/// and a little larger because polyester shrinks in the press. The bits the proof was made from are the plates.
/// </summary>
public static class DyePrintFile
{
    /// <summary>Polyester shrinks by 1 to 2 % in the press (common practice); the middle.</summary>
    public const double Shrink = 0.015;

    public static ImmutableArray<ProductionFile> Of(Proof proof)
    {
        var separation = proof.Separation;
        if (separation.Plates.IsEmpty)
            return [];
        var channels = separation
            .Plates.Select(p => new InkChannel(p.Name.ToLowerInvariant(), Mirrored(TonePlate.Of(p))))
            .ToImmutableArray();
        return
        [
            new ProductionChannels("print-file.png", channels, separation.PixelsPerMm / (1 + Shrink)),
            new ProductionText("print-file.txt", "text/plain", Note(proof)),
        ];
    }

    internal static BytePlane Mirrored(BytePlane plane)
    {
        var mirrored = new BytePlane(plane.Width, plane.Height);
        for (var y = 0; y < plane.Height; y++)
        {
            plane.Row(y).CopyTo(mirrored.Row(y));
            mirrored.Row(y).Reverse();
        }
        return mirrored;
    }

    private static string Note(Proof proof)
    {
        var (separation, device) = (proof.Separation, proof.Films.Device);
        var (width, height) = (separation.WidthMm, separation.HeightMm);
        return string.Join(
            '\n',
            [
                "print file for dye sublimation",
                "",
                $"dyes           {string.Join(", ", separation.Plates.Select(p => p.Name.ToLowerInvariant()))}",
                "mirrored       yes: print as it is, the paper is turned over onto the cloth",
                FormattableString.Invariant(
                    $"on paper       {width * (1 + Shrink):0.0} x {height * (1 + Shrink):0.0} mm"
                ),
                FormattableString.Invariant(
                    $"on the cloth   {width:0.0} x {height:0.0} mm, with {100 * Shrink:0.0} % allowed for shrink in the press (1 to 2 % is usual: press a test square and measure)"
                ),
                FormattableString.Invariant(
                    $"dots           the 1-bit plates are at {device.XDpi:0} x {device.YDpi:0} dpi, true size without the allowance, and are what the proof shows; a printer that makes its own dots takes the grey pictures, and its dots are not the proof's"
                ),
                $"caution        {proof.Request.Method.Caution}",
                "",
            ]
        );
    }
}
