using System.Collections.Immutable;

namespace ProofDesk.Printing.Garments;

/// <summary>A piece of cloth of one size: closed outline in mm of the drawing of its side, including what lies under other pieces.</summary>
public sealed record GarmentPanel(string Name, PieceKind Kind, ImmutableArray<(double X, double Y)> Outline);

/// <summary>A seam of one size as a line of points, mm of the drawing of its side.</summary>
public sealed record SeamLine(string Name, int Stitches, ImmutableArray<(double X, double Y)> Points);
