using System.Collections.Immutable;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// What the press did to one screen in the simulated print: the values that make a picture repeatable and explainable.
/// </summary>
/// <param name="Plate">Name of the plate.</param>
/// <param name="DxMm">Register error to the right.</param>
/// <param name="DyMm">Register error downwards.</param>
/// <param name="RotationRadians">Rotation about the centre of the print, clockwise.</param>
/// <param name="Stretch">Relative stretch about the centre, 0 = none.</param>
/// <param name="GrowthUm">Mean ink growth at an edge on bare cloth.</param>
/// <param name="GrowthOnBaseUm">Mean ink growth at an edge on a white base.</param>
/// <param name="SurelyLostUm">Dots and lines below this width never print (w, mesh opening).</param>
/// <param name="SurelyPrintedUm">Dots and lines from this width on always print (2 d + w).</param>
public sealed record PlateRun(
    string Plate,
    double DxMm,
    double DyMm,
    double RotationRadians,
    double Stretch,
    double GrowthUm,
    double GrowthOnBaseUm,
    double SurelyLostUm,
    double SurelyPrintedUm
);

/// <summary>The press part of a picture's recipe: seed and what became of each running screen, in print order.</summary>
public sealed record PressRecord(ulong Seed, Deposit Deposit, ImmutableArray<PlateRun> Plates);
