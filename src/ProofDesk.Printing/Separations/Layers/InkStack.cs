using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>
/// The plates of a sheet, one on the other: the expected colour at a point of the art. Dots of one angle grow from the same
/// centres, so the plates of a point are nested: what prints 30 % lies within what prints 60 %. The areas of the
/// combinations follow, and light adds.
/// </summary>
internal sealed class InkStack
{
    private readonly Separation _separation;
    private readonly int[] _plates;
    private readonly InkedCloth _cloth;
    private readonly Dictionary<ulong, Xyz> _solids = [];

    public InkStack(LayerJob job, Separation separation, GroundPlan sheet)
    {
        _separation = separation;
        _plates = [.. sheet.Runs.Where(r => r.Runs).Select(r => r.Plate)];
        _cloth = separation.Press.On(
            sheet.Ground,
            ClothColour.RunsOf(separation, sheet),
            separation.Press.Settings(job.Settings.Press),
            Deposit.Expected
        );
    }

    public Lab Cloth => _cloth.SolidLab(0, ViewingLight.D50);

    /// <summary>Expected colour, and which passes print there at all.</summary>
    public (Lab Printed, ulong Code) At(int x, int y)
    {
        Span<int> tones = stackalloc int[_plates.Length];
        var code = 0UL;
        for (var i = 0; i < _plates.Length; i++)
        {
            var plate = _separation.Plates[_plates[i]];
            tones[i] = plate.Shape is { } shape && shape[x, y] < 128 ? 0 : plate.Wanted[x, y];
            if (tones[i] > 5)
                code |= 1UL << i;
        }
        double sx = 0,
            sy = 0,
            sz = 0;
        var above = 255;
        while (above > 0)
        {
            // The plates whose dots reach this far, down to the next smaller tone.
            var next = 0;
            var solid = 0UL;
            for (var i = 0; i < tones.Length; i++)
                if (tones[i] >= above)
                    solid |= 1UL << i;
                else
                    next = Math.Max(next, tones[i]);
            var (share, xyz) = ((above - next) / 255.0, Solid(solid));
            (sx, sy, sz) = (sx + share * xyz.X, sy + share * xyz.Y, sz + share * xyz.Z);
            above = next;
        }
        return (CieLab.FromXyz(new Xyz(sx, sy, sz), ViewingLight.D50), code);
    }

    /// <summary>The plates that print together, the lowest first.</summary>
    public IEnumerable<Plate> PlatesOf(ulong code) =>
        _plates.Where((_, i) => (code >> i & 1) != 0).Select(plate => _separation.Plates[plate]);

    /// <summary>"where Red lies on Base", "where nothing prints".</summary>
    public string Names(ulong code)
    {
        string[] names = [.. PlatesOf(code).Select(p => p.Name).Distinct().Reverse()];
        return names.Length switch
        {
            0 => "where nothing prints",
            1 => $"where {names[0]} prints alone",
            _ => $"where {names[0]} lies on {string.Join(" on ", names[1..])}",
        };
    }

    private Xyz Solid(ulong code)
    {
        if (!_solids.TryGetValue(code, out var xyz))
            _solids[code] = xyz = Tristimulus.Of(_cloth.Solid(code), ViewingLight.D50);
        return xyz;
    }
}
