using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// One of the dyes that make a garment's colour.
/// </summary>
/// <param name="Dye">What kind of dye, named by its chemistry.</param>
/// <param name="Ks">The K/S it adds to its fibre.</param>
/// <param name="ResidualShare">Share of it that the strongest discharge leaves, 0..1: a property of the dye.</param>
public sealed record DyePart(DyeKind Dye, Spectrum Ks, double ResidualShare);

/// <summary>A dye as a garment file states it: how strong it is next to the colour's other dyes, and what discharge leaves of it.</summary>
public sealed record DyeShare(DyeKind Dye, double Strength, double ResidualShare);
