using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// How well a number is known: A measured for this, B one measurement or the maker's Lab, C a default of the trade. Photographed is
/// a colour read off a photograph, whose camera and light nobody measured: only cloth has it.
/// </summary>
public enum DataClass
{
    A,
    B,
    C,
    Photographed,
}

public enum FibreKind
{
    Cotton,
    Polyester,
    Viscose,
}

/// <summary>A share of the cloth by weight, 0..1; the shares of a colour add up to 1.</summary>
public sealed record FibreShare(FibreKind Fibre, double Share);

/// <summary>
/// One colour of a garment as light leaves it: the unprinted cloth.
/// </summary>
/// <param name="Id">Stable identifier used on the command line, e.g. "black".</param>
/// <param name="Name">Name shown to people.</param>
/// <param name="Reflectance">Diffuse reflectance factor of the cloth without its brightener, 0..1.</param>
/// <param name="Fibres">Composition.</param>
/// <param name="BrightenerPeak">Height of the optical brightener's emission at 440 nm as a radiance factor ([PHYSICS] 1.12); 0 = none.</param>
/// <param name="HeatherFleck">For heather: reflectance and weight share of the dark fibre; null for solid colours.</param>
/// <param name="DataClass">How well the reflectance is known.</param>
/// <param name="Source">Where it comes from, one sentence.</param>
public sealed record GarmentColour(
    string Id,
    string Name,
    Spectrum Reflectance,
    ImmutableArray<FibreShare> Fibres,
    double BrightenerPeak,
    HeatherFleck? HeatherFleck,
    DataClass DataClass,
    string Source
)
{
    /// <summary>The dyes that make the colour; empty when they are not known.</summary>
    public ImmutableArray<DyeShare> Dyes { get; init; } = [];
}

/// <summary>Dark fibre blended into a pale cloth: drawn as streaks along the course whose mean is the blend's reflectance.</summary>
public sealed record HeatherFleck(Spectrum DarkFibre, Spectrum PaleFibre, double DarkShare)
{
    /// <summary>The dark fibre is dyed cotton or viscose; otherwise it is polyester as far as there is polyester.</summary>
    public bool DarkOnCellulose { get; init; }
}

/// <summary>The knit: distance of wales (across) and courses (down).</summary>
public sealed record Knit(double WalePitchMm, double CoursePitchMm, double ThicknessMm, double ScatteringPerUm)
{
    /// <summary>Plain weave: the pitches are those of the ends (warp, across) and the picks (weft, down).</summary>
    public bool Woven { get; init; }
}

/// <summary>
/// Outline and seams of one size, millimetres, origin at the middle of the collar seam, x towards the right of the
/// picture, y down; garment laid flat.
/// </summary>
/// <param name="Size">"S", "M", "L", "XL", ...</param>
/// <param name="ChestMm">Half chest (armpit to armpit), laid flat.</param>
/// <param name="LengthMm">Collar seam at the centre front to the hem.</param>
public sealed record GarmentSize(
    string Size,
    double ChestMm,
    double LengthMm,
    double ShoulderMm,
    double SleeveLengthMm,
    double CollarWidthMm,
    double CollarDropFrontMm,
    double CollarDropBackMm
);

/// <summary>A garment: shape in all sizes, cloth and colours.</summary>
/// <param name="Id">Stable identifier, e.g. "tee".</param>
public sealed record Garment(
    string Id,
    string Name,
    Knit Knit,
    ImmutableArray<GarmentSize> Sizes,
    ImmutableArray<GarmentColour> Colours,
    string Sha256
)
{
    /// <summary>The drawing of the garment, or null when only its cloth is known.</summary>
    public GarmentShape? Shape { get; init; }

    /// <summary>The file it was read from, whose digest is <see cref="Sha256"/>; empty when it was not read from one.</summary>
    public ImmutableArray<byte> File { get; init; } = [];

    /// <summary>A side of it is a photograph of the shop's own instead of a drawing.</summary>
    public bool IsPhotographed => Shape?.Views.Any(v => v.Photograph is not null) == true;

    /// <summary>The colour with this identifier, or null.</summary>
    public GarmentColour? Colour(string id) => Colours.FirstOrDefault(c => c.Id == id);

    public GarmentSize? Size(string size) => Sizes.FirstOrDefault(s => s.Size == size);

    /// <summary>
    /// The usual tape measure of a place on this garment. A print all over lies with its middle on the middle of the side, as
    /// far past the outline at the top as at the sides.
    /// </summary>
    public Placement Usual(Place place, double widthMm)
    {
        if (Shape is null)
            return Placement.Usual(place, widthMm);
        if (!place.IsAllOver() || Shape.View(place.Side()) is null)
            return Shape.Usual(place, widthMm);
        var side = Shape.AllOver(SizeOrMiddle("L"), place.Side(), bleedMm: 0);
        return side with { FromSeamMm = side.FromSeamMm - (widthMm - side.WidthMm) / 2, WidthMm = widthMm };
    }

    /// <summary>The size with this name, or where the garment has none the middle one of those it has.</summary>
    public GarmentSize SizeOrMiddle(string size) => Size(size) ?? Sizes[Sizes.Length / 2];
}

/// <summary>What a print lands on: one garment in one colour.</summary>
public sealed record Ground(Garment Garment, GarmentColour Colour)
{
    public string Id => $"{Garment.Id}/{Colour.Id}";
}
