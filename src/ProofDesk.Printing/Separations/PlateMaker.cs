using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations;

/// <summary>What was measured while a plate was made.</summary>
/// <param name="Thin">Its thinnest strokes; null when none is thinner than any limit.</param>
/// <param name="WeakMm2">Area whose dots the mesh does not hold.</param>
/// <param name="Drawn">What is drawn on it in solid ink, without what runs under other colours; null where it is toned or only a base.</param>
internal sealed record MadePlate(
    Plate Plate,
    ArtInk? Ink,
    BytePlane? Drawn,
    FineLines? Thin,
    double WeakMm2,
    double HeldTone
);

/// <summary>From drawings to plates: mesh by purpose, one ruling for all tones, film tones compensated for growth.</summary>
internal sealed class PlateMaker(PrintMethod method, SpotSettings settings, double pixelsPerMm)
{
    private BytePlane? _solid;

    private sealed record Draft(
        string Name,
        PlatePurpose Purpose,
        Ink Ink,
        ArtInk? Art,
        PlateDrawing Drawing,
        bool OnBase,
        BytePlane? Drawn,
        FineLines? Thin,
        Mesh Mesh
    );

    private readonly List<Draft> _drafts = [];

    public void Add(
        string name,
        PlatePurpose purpose,
        Ink ink,
        ArtInk? art,
        PlateDrawing drawing,
        BytePlane own,
        bool onBase
    )
    {
        var isBase = purpose.IsUnderColours;
        // The art's white is drawn on the base screen.
        var drawn = isBase && art is null || drawing.Tone is not null ? null : own;
        var thin = drawn is null ? null : FineLines.Of(drawn, pixelsPerMm);
        _drafts.Add(
            new(name, purpose, ink, art, drawing, onBase, drawn, thin, MeshFor(isBase, drawing, thin?.WidthMm))
        );
    }

    public ImmutableArray<MadePlate> Make()
    {
        if (_drafts.Count == 0)
            return [];
        var lpi = settings.LinesPerInch ?? Ruling();
        var screen = new Screen(lpi, settings.AngleDegrees, DotShape.Elliptical);
        var curves = new Dictionary<double, ToneCompensation>();
        return [.. _drafts.Select((draft, i) => Finish(draft, screen, curves, i))];
    }

    /// <summary>
    /// One ruling for all tones: a base and the tint on it must have their dots in step, or they beat.
    /// </summary>
    private double Ruling()
    {
        var toned = _drafts.Where(d => d.Drawing.Tone is not null).DefaultIfEmpty(_drafts[^1]);
        return Math.Min(settings.FinestLinesPerInch, toned.Min(d => Screen.UsualLinesPerInch(d.Mesh.ThreadsPerInch)));
    }

    private Mesh MeshFor(bool isBase, PlateDrawing drawing, double? thinnest)
    {
        if ((isBase ? settings.BaseMesh : settings.ColourMesh) is { } chosen)
            return chosen;
        if (isBase)
            return drawing.Tone is null ? Meshes.SolidBase(method.BaseInk) : Meshes.HalftoneBase;
        var usual = drawing.Tone is null ? Meshes.Spot(method.ColourInk) : Meshes.HalftoneColour;
        if (thinnest is not { } mm || mm * 1000 >= usual.SafeFeatureUm)
            return usual;
        // Fine drawing goes on the coarsest finer mesh that holds it, or the finest of the usual ones.
        return Meshes.Default.FirstOrDefault(m => m.SafeFeatureUm < usual.SafeFeatureUm && m.SafeFeatureUm <= mm * 1000)
            ?? Meshes.FineHalftone;
    }

    private MadePlate Finish(Draft draft, Screen screen, Dictionary<double, ToneCompensation> curves, int order)
    {
        var held = ToneCompensation.SmallestHeldTone(draft.Mesh, screen.LinesPerInch);
        var solid = _solid ??= BytePlane.Filled(draft.Drawing.Shape.Width, draft.Drawing.Shape.Height, 255);
        var (film, wanted, weak) = (solid, solid, 0L);
        FilmRule? rule = null;
        if (draft.Drawing.Tone is { } tone)
        {
            var growth = draft.OnBase ? settings.Press.GrowthOnBaseUm : settings.Press.GrowthUm;
            if (!curves.TryGetValue(growth, out var curve))
                curves[growth] = curve = new(screen.LinesPerInch, growth, screen.Dot);
            wanted = tone;
            (film, weak) = Compensated(tone, draft.Drawing.Shape, curve, held, settings.WeakTones);
            rule = (asked, on, mesh, cutOrHold) =>
                Compensated(
                    asked,
                    draft.Drawing.Shape,
                    on.IsStochastic
                        ? ToneCompensation.Stochastic(25400 / on.LinesPerInch, growth)
                        : new(on.LinesPerInch, growth, on.Dot),
                    on.IsStochastic ? 0 : ToneCompensation.SmallestHeldTone(mesh, on.LinesPerInch),
                    cutOrHold
                ).Film;
        }
        var isBase = draft.Purpose.IsUnderColours;
        var beforeHighlight =
            order + 1 < _drafts.Count && _drafts[order + 1].Purpose == PlatePurpose.HighlightWhite && !isBase;
        var plate = new Plate(
            draft.Name,
            draft.Purpose,
            draft.Ink,
            draft.Mesh,
            screen,
            film,
            draft.Drawing.Shape,
            wanted,
            isBase ? settings.BaseStrokes : 1,
            isBase && _drafts.Count > 1 || beforeHighlight
        )
        {
            Rule = rule,
        };
        return new(plate, draft.Art, draft.Drawn, draft.Thin, weak / (pixelsPerMm * pixelsPerMm), held);
    }

    private static (BytePlane Film, long Weak) Compensated(
        BytePlane tone,
        BytePlane shape,
        ToneCompensation curve,
        double held,
        WeakTones weakTones
    )
    {
        var table = new byte[256];
        var weak = new bool[256];
        for (var i = 1; i < 256; i++)
        {
            var film = curve.Film(i / 255.0);
            weak[i] = film > 0 && film < held;
            if (weak[i])
                film = weakTones == WeakTones.Hold ? held : 0;
            table[i] = (byte)Math.Round(255 * film);
        }
        var result = new BytePlane(tone.Width, tone.Height);
        var count = 0L;
        for (var y = 0; y < tone.Height; y++)
        {
            var from = tone.Row(y);
            var outline = shape.Row(y);
            var to = result.Row(y);
            for (var x = 0; x < to.Length; x++)
            {
                to[x] = table[from[x]];
                if (weak[from[x]] && outline[x] >= 128)
                    count++;
            }
        }
        return (result, count);
    }
}
