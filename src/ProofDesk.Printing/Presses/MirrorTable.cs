using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>What of each code mirrors, X, Y, Z, in the classes of the code table beside it.</summary>
internal sealed class MirrorTable : CodeColours
{
    private readonly InkedCloth _inks;
    private readonly ViewingLight _light;
    private readonly double[] _bareShares;

    private MirrorTable(InkedCloth inks, CodeTable beside, ViewingLight light)
        : base(inks.Runs.Length, beside.Classes) =>
        (_inks, _light, _bareShares) = (inks, light, beside.BareShares.ToArray());

    public static MirrorTable Of(InkedCloth inks, CodeTable beside, ViewingLight light) => new(inks, beside, light);

    protected override void Fill(int code, Span<int> rows)
    {
        rows.Clear();
        if (code == 0)
            return;
        var bareShare = _inks.BareFibreShare((ulong)code);
        for (var c = 0; c < Classes; c++)
        {
            var bucket = c / ThicknessSpread.Classes;
            var isBare = bucket > 0 && bareShare >= _bareShares[bucket - 1] - 1e-6;
            if (_inks.Mirror((ulong)code, new(c % ThicknessSpread.Classes, isBare)) is not { } mirror)
                continue;
            var xyz = Tristimulus.Of(mirror, _light);
            var row = rows.Slice(c * Lanes, Lanes);
            (row[0], row[1], row[2]) = (Fixed(xyz.X), Fixed(xyz.Y), Fixed(xyz.Z));
        }
    }

    private static int Fixed(double value) => (int)Math.Round(value / 100 * CodeTable.One);
}
