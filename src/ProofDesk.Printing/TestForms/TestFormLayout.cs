using System.Collections.Immutable;

namespace ProofDesk.Printing.TestForms;

/// <summary>A wedge, two line ladders, rings, a solid and a taper of one ink on one ground, at (X, Y) mm.</summary>
public readonly record struct FormBlock(int Plate, FormUnder Under, double X, double Y);

/// <summary>A vernier of one screen against the reference screen, at (X, Y) mm; along x or along y.</summary>
public readonly record struct FormVernier(int Plate, FormCorner Corner, bool AlongX, double X, double Y);

/// <summary>
/// Where everything lies on the form, mm from the top left corner of the image area. The drawing and the reading of a
/// scan both look here, so that they cannot disagree.
/// </summary>
public sealed class TestFormLayout
{
    // The block, mm from its own top left corner.
    public const double BlockWidth = 172;
    public const double BlockHeight = 33;
    public const double BlockPitch = 38;
    public const double BaseMargin = 2;
    public const double StepWidth = 6;
    public const double WedgeTop = 3.5;
    public const double WedgeHeight = 8;
    public const double LinesTop = 15;
    public const double LinesHeight = 7;
    public const double GapsTop = 25.5;
    public const double RingsX = 106;
    public const double RingsY = 17.2;

    /// <summary>Rings and the gaps between them: ink where the radius is within half of this of a multiple of twice this.</summary>
    public const double RingMm = 1.5;

    /// <summary>Rings around the dot in the middle.</summary>
    public const int Rings = 4;
    public const double SolidLeft = 121;
    public const double SolidTop = 3.5;
    public const double SolidWidth = 17;
    public const double SolidHeight = 26;
    public const double TaperLeft = 143;
    public const double TaperTop = 4.5;

    /// <summary>Film tones of the wedge, per cent.</summary>
    public static ImmutableArray<int> StepsPercent { get; } = [2, 3, 5, 7, 10, 15, 20, 30, 50, 70, 80, 85, 90, 95, 97];

    /// <summary>Widths of the line ladder and of its reverse, um.</summary>
    public static ImmutableArray<int> LinesUm { get; } =
    [50, 75, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 500, 700, 1000];

    // The vernier, mm from the cell's own top left corner; along y the two are exchanged.
    public const int VernierReach = 10;
    public const double MainPitch = 1.0;
    public const double VernierPitch = 0.95;
    public const double VernierLength = 23;
    public const double VernierDepth = 10.5;
    public const double MainLineMm = 0.4;
    public const double VernierLineMm = 0.3;
    public const double ScaleDepth = 3;
    public const double ScaleGap = 0.5;

    /// <summary>Lines between every fifth are shorter by this at the end away from the other scale.</summary>
    public const double ShortBy = 1.4;

    /// <summary>What one line of the vernier says, mm.</summary>
    public const double VernierStepMm = MainPitch - VernierPitch;

    // The whole form.
    public const double WidthMm = 200;
    public const double CornerMarkMm = 8;
    public const double CornerHoleMm = 3;
    private const double ContentLeft = 14;
    private const double TitleTop = 4;
    private const double BandTop = 10;
    private const double CornerX = 6;
    private const double CornerY = 8;

    public TestFormLayout(TestFormSettings settings)
    {
        var count = settings.RegisteredPlates.Length;
        var band = Math.Max(VernierLength, count * VernierDepth);
        var blocksTop = BandTop + band + 3 + BaseMargin;
        Blocks =
        [
            .. settings.Blocks.Select(
                (b, i) => new FormBlock(b.Plate, b.Under, ContentLeft, blocksTop + i * BlockPitch)
            ),
        ];
        var bottom = blocksTop + Blocks.Length * BlockPitch;
        HeightMm = bottom + band + 4;
        var verniers = ImmutableArray.CreateBuilder<FormVernier>();
        foreach (var corner in Enum.GetValues<FormCorner>())
            for (var i = 0; i < count; i++)
            {
                var left = corner is FormCorner.TopLeft or FormCorner.BottomLeft;
                var top = corner is FormCorner.TopLeft or FormCorner.TopRight ? BandTop : bottom;
                var along = left ? ContentLeft : WidthMm - ContentLeft - VernierLength;
                var across = left
                    ? ContentLeft + VernierLength + 2 + i * VernierDepth
                    : WidthMm - ContentLeft - VernierLength - 2 - (i + 1) * VernierDepth;
                verniers.Add(new(settings.RegisteredPlates[i], corner, true, along, top + i * VernierDepth));
                verniers.Add(new(settings.RegisteredPlates[i], corner, false, across, top));
            }
        Verniers = verniers.ToImmutable();
    }

    public double HeightMm { get; }
    public ImmutableArray<FormBlock> Blocks { get; }
    public ImmutableArray<FormVernier> Verniers { get; }

    /// <summary>Where the title begins.</summary>
    public (double X, double Y) Title => (ContentLeft, TitleTop);

    /// <summary>Centre of a corner mark. The top left one is solid, the others have a hole.</summary>
    public (double X, double Y) CornerMark(FormCorner corner) =>
        (
            corner is FormCorner.TopLeft or FormCorner.BottomLeft ? CornerX : WidthMm - CornerX,
            corner is FormCorner.TopLeft or FormCorner.TopRight ? CornerY : HeightMm - CornerY
        );

    /// <summary>Middle of a vernier, where both scales have their zero.</summary>
    public static (double X, double Y) Zero(FormVernier vernier)
    {
        const double Along = VernierLength / 2;
        const double Across = ScaleDepth + ScaleGap / 2;
        return vernier.AlongX ? (vernier.X + Along, vernier.Y + Across) : (vernier.X + Across, vernier.Y + Along);
    }
}
