using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// What cut-and-sew hands over: for each panel an SVG of its lines and the dyes that fill it up to the cut line, both
/// mirrored; a note. Outlines are those of the laid garment's drawing, not a pattern maker's.
/// </summary>
public static class PanelFiles
{
    /// <summary>Cloth beyond the sew line (common practice 7 to 12 mm).</summary>
    public const double SeamAllowanceMm = 10;

    public static ImmutableArray<ProductionFile> OfCutAndSew(Proof proof)
    {
        var (separation, ground) = (proof.Separation, proof.Grounds.FirstOrDefault()?.Ground);
        if (separation.Lay is not { } lay || ground?.Garment is not { Shape: { } shape } garment)
            return [];
        if (lay.OnPrint(garment, separation.HeightMm) is not { } onPrint || separation.Plates.IsEmpty)
            return [];
        var side = lay.Placement.Place.Side();
        var tones = separation.Plates.Select(p => (p.Name, Tone: TonePlate.Of(p))).ToArray();
        var files = ImmutableArray.CreateBuilder<ProductionFile>();
        var number = 0;
        foreach (var panel in shape.Panels(garment.Size(lay.Size)!, side))
        {
            ImmutableArray<(double X, double Y)> sew = [.. panel.Outline.Select(onPrint)];
            var cut = PanelSvg.Allowed(sew, SeamAllowanceMm);
            var name = FormattableString.Invariant($"panels/{++number:00}-{panel.Name.Replace(' ', '-')}");
            var title = $"{garment.Id}, {lay.Size}, {side.ToString().ToLowerInvariant()}, {panel.Name}";
            files.Add(new ProductionText($"{name}.svg", "image/svg+xml", new PanelSvg(title, sew, cut, true).Write()));
            files.Add(
                new ProductionChannels(
                    $"{name}.png",
                    [
                        .. tones.Select(t => new InkChannel(
                            t.Name.ToLowerInvariant(),
                            DyePrintFile.Mirrored(Cut(t.Tone, cut, separation.PixelsPerMm))
                        )),
                    ],
                    separation.PixelsPerMm / (1 + DyePrintFile.Shrink)
                )
            );
        }
        files.Add(new ProductionText("panels/panels.txt", "text/plain", Note(proof, number)));
        return files.ToImmutable();
    }

    /// <summary>The plates cover the whole side; the outline says where the garment lies on them.</summary>
    public static ImmutableArray<ProductionFile> OfBelt(Proof proof)
    {
        var separation = proof.Separation;
        if (
            separation.Lay is not { } lay
            || proof.Grounds.FirstOrDefault()?.Ground.Garment is not { Shape: { } shape } garment
            || lay.OnPrint(garment, separation.HeightMm) is not { } onPrint
        )
            return [];
        var side = lay.Placement.Place.Side();
        ImmutableArray<(double X, double Y)> outline =
        [
            .. shape.PanelOutline(garment.Size(lay.Size)!, side).Select(onPrint),
        ];
        ImmutableArray<(double X, double Y)> art =
        [
            (0, 0),
            (separation.WidthMm, 0),
            (separation.WidthMm, separation.HeightMm),
            (0, separation.HeightMm),
        ];
        var word = side.ToString().ToLowerInvariant();
        var title = $"{garment.Id}, {lay.Size}, {word}: garment dashed, edge of the art solid";
        return
        [
            new ProductionText($"belt/{word}.svg", "image/svg+xml", new PanelSvg(title, outline, art, false).Write()),
        ];
    }

    /// <summary>The part of a plate inside a panel's cut line.</summary>
    private static BytePlane Cut(BytePlane tone, ImmutableArray<(double X, double Y)> cut, double perMm)
    {
        var left = Math.Clamp((int)Math.Floor(cut.Min(p => p.X) * perMm), 0, tone.Width - 1);
        var top = Math.Clamp((int)Math.Floor(cut.Min(p => p.Y) * perMm), 0, tone.Height - 1);
        var right = Math.Clamp((int)Math.Ceiling(cut.Max(p => p.X) * perMm), left + 1, tone.Width);
        var bottom = Math.Clamp((int)Math.Ceiling(cut.Max(p => p.Y) * perMm), top + 1, tone.Height);
        var part = new BytePlane(right - left, bottom - top);
        PolygonFill.Fill(
            part,
            [
                [.. cut.Select(p => (p.X * perMm - left, p.Y * perMm - top))],
            ]
        );
        for (var y = 0; y < part.Height; y++)
        {
            var inside = part.Row(y);
            var from = tone.Row(top + y).Slice(left, part.Width);
            for (var x = 0; x < inside.Length; x++)
                inside[x] = (byte)((inside[x] * from[x] + 127) / 255);
        }
        return part;
    }

    private static string Note(Proof proof, int panels) =>
        string.Join(
            '\n',
            [
                "panels for cut and sew",
                "",
                FormattableString.Invariant(
                    $"panels         {panels}, each an SVG of cut line (red), sew line (blue, dashed) and notches, and one grey picture a dye"
                ),
                FormattableString.Invariant(
                    $"seam allowance {SeamAllowanceMm:0} mm beyond the sew line, filled with the art"
                ),
                FormattableString.Invariant(
                    $"shrink         the pictures are {100 * DyePrintFile.Shrink:0.0} % larger than the cut line, which is the size on the cloth"
                ),
                "mirrored       yes, lines and pictures",
                "outlines       those of the garment's drawing laid flat: put the cutter's own pattern in their place",
                $"caution        {proof.Request.Method.Caution}",
                "",
            ]
        );
}
