using System.Collections.Immutable;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// An opaque sheet of even thickness pressed on: what lies below hardly shows, and nothing above it reaches the cloth. It
/// is a Kubelka-Munk film like an ink's, only that no mesh meters it ([PHYSICS] 1.2, 3.2).
/// </summary>
internal sealed class SheetAction : InkAction
{
    public static SheetAction Instance { get; } = new();

    public override bool CoversFibres => true;

    public override PrintedStack Print(PrintedStack below, InkPlace at)
    {
        var ink = at.Pass.Ink;
        ImmutableArray<PrintedLayer> sheet = [PrintedLayer.Film(ink, ink.SheetUm)];
        // Ink below lies flat under the sheet and keeps its fibres to itself.
        var ground = below.Layers.IsEmpty ? below.Ground : below.Hidden(below.Reflectance(at.Point)).Ground;
        return below.Hidden(InkOnCloth.Reflectance(ground, sheet, new(0, false)));
    }
}
