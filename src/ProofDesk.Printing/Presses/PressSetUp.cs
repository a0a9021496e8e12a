using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>One running screen, ready to print.</summary>
/// <param name="UnderBase">Bits of the screens below that are a white base.</param>
internal sealed record MountedScreen(
    int PlateIndex,
    Film Film,
    int? Carriage,
    RegisterError Register,
    LostDots LostDots,
    InkSpread Spread,
    int BasesBelow
);

/// <summary>
/// The press before the first print: screens mounted in print order, their errors drawn, noise and colour table ready.
/// Shared by all bands and threads; nothing in it changes except that the table fills.
/// </summary>
internal sealed class PressSetUp
{
    private readonly MethodPress _method;

    private PressSetUp(PressSetUp other)
    {
        (Scale, Screens, Table, Knit, Texture) = (other.Scale, other.Screens, other.Table, other.Knit, other.Texture);
        (Mirrors, Studio) = (other.Mirrors, other.Studio);
        (ScatterUm, Record, _method) = (other.ScatterUm, other.Record, other._method);
        (SpreadRows, RegrowRows, LostRows) = (other.SpreadRows, other.RegrowRows, other.LostRows);
    }

    private PressSetUp(
        MethodPress method,
        PictureScale scale,
        ImmutableArray<MountedScreen> screens,
        CodeTable table,
        KnitTile knit,
        ClothTexture texture,
        double scatterUm,
        PressRecord record
    )
    {
        _method = method;
        (Scale, Screens, Table, Knit, Texture, ScatterUm, Record) = (
            scale,
            screens,
            table,
            knit,
            texture,
            scatterUm,
            record
        );
        SpreadRows = screens.Length == 0 ? 0 : screens.Max(s => s.Spread.HaloRows);
        RegrowRows = screens.Length == 0 ? 0 : screens.Max(s => s.LostDots.RegrowRows);
        LostRows = screens.Length == 0 ? 0 : screens.Max(s => s.LostDots.HaloRows);
    }

    public PictureScale Scale { get; }
    public ImmutableArray<MountedScreen> Screens { get; private init; }
    public CodeTable Table { get; }
    public KnitTile Knit { get; }
    public ClothTexture Texture { get; }

    /// <summary>What mirrors, by code; null when nothing does.</summary>
    public MirrorTable? Mirrors { get; private init; }

    /// <summary>What a mirror shows at each place of the flat print; there with <see cref="Mirrors"/>.</summary>
    public StudioMirror? Studio { get; private init; }

    /// <summary>How far light travels sideways in this cloth.</summary>
    public double ScatterUm { get; }

    public PressRecord Record { get; }
    public int SpreadRows { get; }
    public int RegrowRows { get; }
    public int LostRows { get; }

    /// <summary>Picture cells around the films that ink can reach.</summary>
    public int PadCells
    {
        get
        {
            if (Screens.Length == 0)
                return 0;
            var smaller = Math.Min(Scale.CellWidth, Scale.CellHeight);
            return (ReachPx(Screens[0].Film.Width, Screens[0].Film.Height) + smaller - 1) / smaller;
        }
    }

    /// <summary>Film pixels around the films that ink can reach: register error at the corners and growth.</summary>
    public int ReachPx(int filmWidth, int filmHeight)
    {
        double reach = 0;
        foreach (var screen in Screens)
        {
            var e = screen.Register;
            var turn = Math.Abs(e.RotationRadians) + Math.Abs(e.Stretch);
            reach = Math.Max(
                reach,
                Math.Max(Math.Abs(e.DxMm) * Scale.XPixelsPerMm, Math.Abs(e.DyMm) * Scale.YPixelsPerMm)
                    + turn * Math.Max(filmWidth, filmHeight)
            );
        }
        return (int)Math.Ceiling(reach) + SpreadRows + 2;
    }

    /// <summary>
    /// A cell of bare cloth, surface X, Y, Z and root X, Y, Z, added and scaled as the cells of a band are, so that cloth
    /// beside the films and cloth under blank film are the same bytes.
    /// </summary>
    public float[] Cloth(int pixelsInCell)
    {
        var row = Table.ClothRow();
        var scale = 1f / CodeTable.One / pixelsInCell;
        var cloth = new float[6];
        for (var c = 0; c < 3; c++)
            (cloth[c], cloth[3 + c]) = (row[c] * pixelsInCell * scale, row[4 + c] * pixelsInCell * scale);
        return cloth;
    }

    /// <summary>The same press on another shirt of the run.</summary>
    public PressSetUp On(ShirtOfRun shirt, PressSettings shop)
    {
        var press = _method.Settings(shop);
        return new(this)
        {
            Screens =
            [
                .. Screens.Select(s =>
                    s.Carriage is { } carriage
                        ? s with
                        {
                            Register = RegisterError.Of(press, Record.Seed, carriage, shirt),
                        }
                        : s
                ),
            ],
        };
    }

    /// <summary>How far the two screens that miss each other most are apart at a point given from the centre of the print.</summary>
    public double WorstRegisterMm(double xMm, double yMm)
    {
        double worst = 0;
        for (var i = 0; i < Screens.Length; i++)
        for (var j = 0; j < i; j++)
        {
            var ((ax, ay), (bx, by)) = (Screens[i].Register.At(xMm, yMm), Screens[j].Register.At(xMm, yMm));
            worst = Math.Max(worst, Math.Sqrt((ax - bx) * (ax - bx) + (ay - by) * (ay - by)));
        }
        return worst;
    }

    public static PressSetUp Of(
        Films films,
        GroundPlan plan,
        PressSettings press,
        Deposit deposit,
        ViewingLight light,
        ulong seed,
        int? afterScreens
    )
    {
        var method = films.Separation.Press;
        press = method.Settings(press);
        var running = plan.Runs.Where(run => run.Runs).ToList();
        if (afterScreens is { } first)
        {
            if (first < 0 || first > running.Count)
                throw new ArgumentException(
                    $"{running.Count} screens run on {plan.Ground.Id}, so a print after screen {first} does not exist; ask for 0 to {running.Count}"
                );
            running = running[..first];
        }
        var scale = PictureScale.Of(films);
        var edgeWork = Task.Run(() => InkSpread.Noise(seed, scale.PixelUm));
        var dotNoise = LostDots.Noise(seed, scale.PixelUm);
        var edgeNoise = edgeWork.GetAwaiter().GetResult();
        var screens = ImmutableArray.CreateBuilder<MountedScreen>();
        var record = ImmutableArray.CreateBuilder<PlateRun>();
        var bases = 0;
        for (var k = 0; k < running.Count; k++)
        {
            var run = running[k];
            var film = method.Reaching(films.Plates[run.Plate], films, plan, deposit, seed);
            var mesh = film.Plate.Mesh;
            var own = method.PlateSettings(press, films.Separation, run.Plate);
            var carriage = method.RegisterOf(films.Separation, run.Plate);
            var error = carriage is { } moves ? RegisterError.Draw(own, deposit, seed, moves) : RegisterError.None;
            var factor = InkSpread.Factor(deposit);
            var (onCloth, onBase) = (own.GrowthUm * factor, own.GrowthOnBaseUm * factor);
            screens.Add(
                new(
                    run.Plate,
                    film,
                    carriage,
                    error,
                    LostDots.Of(mesh, own.HeldFeatureScale, scale.PixelUm, dotNoise),
                    new InkSpread(onCloth, onBase, own.GrowthNoiseUm, scale, edgeNoise, bases != 0, run.Plate),
                    bases
                )
            );
            record.Add(
                new(
                    film.Plate.Name,
                    error.DxMm,
                    error.DyMm,
                    error.RotationRadians,
                    error.Stretch,
                    onCloth,
                    onBase,
                    mesh.OpeningUm * press.HeldFeatureScale,
                    mesh.SafeFeatureUm * press.HeldFeatureScale
                )
            );
            if (film.Plate.Purpose.IsBase)
                bases |= 1 << k;
        }
        var passes = ClothColour.RunsOf(films.Separation, plan with { Runs = [.. running] });
        var inked = method.On(plan.Ground, passes, press, deposit);
        var table = CodeTable.Of(inked, light);
        var knit = KnitTile.Make(plan.Ground.Garment.Knit, scale, table.BareShares, seed);
        return new(
            method,
            scale,
            screens.ToImmutable(),
            table,
            knit,
            new ClothTexture(plan.Ground, knit, scale, light, seed, method.ShadeOfInk),
            method.SidewaysUm(plan.Ground),
            new PressRecord(seed, deposit, record.ToImmutable())
        )
        {
            Mirrors = method.MirrorRoughness is null ? null : MirrorTable.Of(inked, table, light),
            Studio = method.MirrorRoughness is { } roughness
                ? StudioMirror.OfFlatPrint(films.Separation.WidthMm, films.Separation.HeightMm, roughness, seed)
                : null,
        };
    }
}
