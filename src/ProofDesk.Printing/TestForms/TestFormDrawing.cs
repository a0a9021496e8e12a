using System.Collections.Immutable;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.TestForms.TestFormLayout;

namespace ProofDesk.Printing.TestForms;

/// <summary>Puts the items of a layout on the plates.</summary>
internal sealed class TestFormDrawing(
    TestFormSettings settings,
    TestFormLayout layout,
    ImmutableArray<TestFormPen> plates
)
{
    private const double Letters = 1.6;

    public void Draw()
    {
        var reference = plates[settings.ReferencePlate];
        var (x, y) = layout.Title;
        reference.Pen.Text(
            x,
            y,
            2.6,
            FormattableString.Invariant(
                $"TEST FORM  {settings.Mesh.Label}  {settings.Ruling:0} LPI   WHITE 1 2 3 STROKES P-F-P   SHEET      PALLET"
            )
        );
        foreach (var corner in Enum.GetValues<FormCorner>())
            CornerMark(reference, corner);
        foreach (var block in layout.Blocks)
            Block(block);
        foreach (var vernier in layout.Verniers)
            Vernier(vernier);
    }

    private void CornerMark(TestFormPen plate, FormCorner corner)
    {
        var (x, y) = layout.CornerMark(corner);
        Square(CornerMarkMm);
        if (corner == FormCorner.TopLeft)
            return;
        plate.Pen.Ink = false;
        Square(CornerHoleMm);
        plate.Pen.Ink = true;

        void Square(double side) => plate.Pen.Box(x - side / 2, y - side / 2, side, side);
    }

    private void Block(FormBlock block)
    {
        var (x, y) = (block.X, block.Y);
        if (block.Under == FormUnder.Base)
            plates[0]
                .Pen.Box(x - BaseMargin, y - BaseMargin, BlockWidth + 2 * BaseMargin, BlockHeight + 2 * BaseMargin);
        var plate = plates[block.Plate];
        var on = block.Under == FormUnder.Base ? "WHITE BASE" : "BARE CLOTH";
        plate.Pen.Text(x, y, 2.2, $"{settings.Inks[block.Plate].Name.ToUpperInvariant()} ON {on}");
        for (var i = 0; i < StepsPercent.Length; i++)
        {
            var left = x + i * StepWidth;
            plate.Tone(left, y + WedgeTop, StepWidth, WedgeHeight, StepsPercent[i] / 100.0);
            plate.Pen.Text(left + 1.2, y + WedgeTop + WedgeHeight + 0.6, Letters, $"{StepsPercent[i]}");
        }
        plate.Pen.Box(x, y + GapsTop, StepWidth * LinesUm.Length, LinesHeight);
        for (var i = 0; i < LinesUm.Length; i++)
        {
            var middle = x + (i + 0.5) * StepWidth;
            plate.Pen.Box(middle - LinesUm[i] / 2000.0, y + LinesTop, LinesUm[i] / 1000.0, LinesHeight);
            plate.Pen.Text(x + i * StepWidth + 0.7, y + LinesTop + LinesHeight + 0.8, Letters, $"{LinesUm[i]}");
            plate.Pen.Ink = false;
            plate.Pen.Box(middle - LinesUm[i] / 2000.0, y + GapsTop, LinesUm[i] / 1000.0, LinesHeight);
            plate.Pen.Ink = true;
        }
        plate.Rings(x + RingsX, y + RingsY);
        plate.Pen.Box(x + SolidLeft, y + SolidTop, SolidWidth, SolidHeight);
        Taper(plate, x, y);
    }

    private static void Taper(TestFormPen plate, double x, double y)
    {
        plate.Taper(x, y);
        for (var growth = 5; growth <= TaperGap.MostUm - TaperGap.UnseenUm; growth += 5)
        {
            var along = TaperGap.AlongMm(growth);
            var named = growth % 20 == 0;
            var (x1, y1) = TaperGap.Point(along, TaperGap.BarMm);
            var (x2, y2) = TaperGap.Point(
                along,
                TaperGap.BarMm
                    + (
                        named ? 1.3
                        : growth % 10 == 0 ? 0.9
                        : 0.5
                    )
            );
            plate.Pen.Line(x + x1, y + y1, x + x2, y + y2, 0.25);
            if (named)
                plate.Pen.Text(x + x2 + 0.4, y + y2 - Letters + 0.4, Letters, $"{growth}");
        }
        const string Rule = "GROWTH UM AT HALF OPEN";
        var (_, ey) = TaperGap.Point(TaperGap.LengthMm, -TaperGap.BarMm);
        plate.Pen.Text(x + BlockWidth - FilmPen.TextWidth(Rule, Letters), y + ey + 1.2, Letters, Rule);
    }

    /// <summary>
    /// The reference carries the main scale: as lines, or, where it is a white that others are seen on, as gaps in a
    /// patch. The other screen carries the vernier, so that it has ink or cloth enough around it either way.
    /// </summary>
    private void Vernier(FormVernier site)
    {
        var reference = plates[settings.ReferencePlate].Pen;
        var white = settings.ReferencePlate == 0;
        if (white)
            Box(reference, site, 0, 0, VernierLength, VernierDepth - 0.5);
        reference.Ink = !white;
        for (var i = -VernierReach; i <= VernierReach; i++)
            Scale(reference, i * MainPitch, MainLineMm, 0, i % 5 == 0 ? ScaleDepth : ScaleDepth - ShortBy);
        reference.Ink = true;
        var pen = plates[site.Plate].Pen;
        for (var i = -VernierReach; i <= VernierReach; i++)
        {
            Scale(
                pen,
                i * VernierPitch,
                VernierLineMm,
                ScaleDepth + ScaleGap,
                i % 5 == 0 ? ScaleDepth : ScaleDepth - ShortBy
            );
            if (i % 5 == 0)
                Label(pen, site, i);
        }

        void Scale(FilmPen with, double along, double width, double across, double depth)
        {
            // Short lines are cut at the far end: the two scales face each other.
            var from = across == 0 ? ScaleDepth - depth : across;
            Box(with, site, VernierLength / 2 + along - width / 2, from, width, depth);
        }
    }

    private static void Box(FilmPen pen, FormVernier site, double along, double across, double length, double depth)
    {
        if (site.AlongX)
            pen.Box(site.X + along, site.Y + across, length, depth);
        else
            pen.Box(site.X + across, site.Y + along, depth, length);
    }

    /// <summary>Hundredths of a millimetre.</summary>
    private static void Label(FilmPen pen, FormVernier site, int line)
    {
        var text = $"{Math.Round(line * VernierStepMm * 100):0}";
        var along = VernierLength / 2 + line * VernierPitch;
        const double Across = 2 * ScaleDepth + ScaleGap + 0.5;
        var wide = FilmPen.TextWidth(text, Letters);
        if (site.AlongX)
            pen.Text(
                Math.Clamp(site.X + along - wide / 2, site.X + 0.4, site.X + VernierLength - wide - 0.4),
                site.Y + Across,
                Letters,
                text
            );
        else
            pen.Text(site.X + Across - 0.3, site.Y + along - 0.6, 1.2, text, 0.18);
    }
}
