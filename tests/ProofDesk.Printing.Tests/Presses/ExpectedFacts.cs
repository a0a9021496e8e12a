using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Metals;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Tests.Dyes;
using static ProofDesk.Printing.Tests.Presses.Cloths;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>A number the engine gives, and the bound a sceptic would accept.</summary>
internal sealed record Reading(string What, double Value, double Low, double High);

/// <summary>One of the facts P1 to P24 of the physics brief, section 5; measured once.</summary>
internal sealed class ExpectedFact(string id, string text, Func<ImmutableArray<Reading>> measure)
{
    private readonly Lazy<ImmutableArray<Reading>> _readings = new(measure);

    public string Id => id;
    public string Text => text;
    public ImmutableArray<Reading> Readings => _readings.Value;
}

/// <summary>
/// What must come out, P1 to P14 and P19 to P24; the halftone facts are in <see cref="ExpectedHalftones"/>. Bounds are the brief's; where
/// shop practice names another one for our press (P1, P2, P5) it is taken, and the text says so.
/// </summary>
internal static class ExpectedFacts
{
    public static ImmutableArray<ExpectedFact> All { get; } = [.. Solids(), .. ExpectedHalftones.All, .. Surfaces()];

    private static InkPass White(string mesh) => new(Ink("white"), Mesh(mesh), 1, true);

    private static IEnumerable<ExpectedFact> Solids() =>
        [
            new(
                "P1",
                "one pass of white plastisol on black is greyish and bluish, never above L* 90 (shop practice: 70 to 86 at 61-64 mesh)",
                () =>
                    [
                        new("61-64 mesh, L*", On(Black, White("61-64")).L, 70, 86),
                        new("61-64 mesh, b*", On(Black, White("61-64")).B, -2.5, 0),
                        new("lightest mesh, L*", Meshes.Default.Max(m => On(Black, White(m.Label)).L), 70, 90),
                        new("rough film of 13 um, L*", Rough(Black, 13).L, 78, 88),
                        new("rough film of 27 um, L*", Rough(Black, 27).L, 78, 88),
                    ]
            ),
            new(
                "P2",
                "print-flash-print is white; the second pass adds much, the third little (standing fibres it covers add 1.5 to the 5 to 9 of an even film)",
                () =>
                    [
                        new("61-64 mesh, L*", Pff(2), 86, 94),
                        new("second pass adds, L*", Pff(2) - Pff(1), 5, 10.5),
                        new("third pass adds, L*", Pff(3) - Pff(2), 1, 3.2),
                    ]
            ),
            new(
                "P3",
                "white on red is pink after one thin pass and nearly neutral after two",
                () =>
                    [
                        new("10 um, L*", Rough(Red, 10).L, 75, 79),
                        new("10 um, a*", Printed(Red, Film("white", 10)).A, 5, 9),
                        new("27 um, L*", Rough(Red, 27).L, 84, 88),
                        new("27 um, a*", Printed(Red, Film("white", 27)).A, 1.2, 3.2),
                        new("50 um, L*", Rough(Red, 50).L, 90, 92),
                        new("50 um, a*", Printed(Red, Film("white", 50)).A, -1, 1),
                    ]
            ),
            new(
                "P4",
                "process inks on black without a base vanish",
                () =>
                    [
                        new("cyan, L*", Printed(Black, Film("process-cyan", 14)).L, 0, 20),
                        new("cyan, C*", Printed(Black, Film("process-cyan", 14)).Chroma, 0, 5),
                        new("magenta, C*", Printed(Black, Film("process-magenta", 14)).Chroma, 0, 25),
                        new("yellow, L*", Printed(Black, Film("process-yellow", 14)).L, 50, 62),
                        new("yellow, a*", Printed(Black, Film("process-yellow", 14)).A, -25, -18),
                    ]
            ),
            new(
                "P5",
                "the same inks on a one-pass base are duller than on two passes (standing fibres add 1)",
                () =>
                    [
                        .. new[] { "process-yellow", "orange", "process-magenta" }.SelectMany(ink =>
                            new Reading[]
                            {
                                new($"{ink}, L* lost", OnBase(ink, 2).L - OnBase(ink, 1).L, 1, 6),
                                new($"{ink}, C* lost", OnBase(ink, 2).Chroma - OnBase(ink, 1).Chroma, 2, 10),
                            }
                        ),
                    ]
            ),
            new(
                "P6",
                "thin water-based pigment fades on black and not on white",
                () =>
                    [
                        new("white on black, L*", Printed(Black, InCloth(1, Pigment.White)).L, 30, 45),
                        new("yellow on black, L*", Printed(Black, InCloth(2.5, Pigment.Yellow)).L, 25, 36),
                        new("red on black, L*", Printed(Black, InCloth(2.5, Pigment.Red)).L, 17, 27),
                        new(
                            "blue on black, dE00 to the cloth",
                            Ciede2000.Difference(LabOf(Black), Printed(Black, InCloth(1.2, Pigment.Blue))),
                            0.5,
                            5
                        ),
                        Off("yellow on white", new(92, -7, 83), Printed(Cloths.White, InCloth(2.5, Pigment.Yellow)), 1),
                        Off("red on white", new(61, 61, 16), Printed(Cloths.White, InCloth(2.5, Pigment.Red)), 1),
                        Off("blue on white", new(59, -38, -52), Printed(Cloths.White, InCloth(1.2, Pigment.Blue)), 1),
                    ]
            ),
            new(
                "P7",
                "water-based colour on red multiplies",
                () =>
                    [
                        new("blue on red, L*", Printed(Red, InCloth(1.2, Pigment.Blue)).L, 18, 28),
                        Off("yellow on red", new(49, 33, 31), Printed(Red, InCloth(2.5, Pigment.Yellow)), 5),
                    ]
            ),
            new(
                "P8",
                "discharge on black is off-white by the share of dye left, never above undyed cloth",
                () =>
                    [
                        .. new (double Left, double L)[]
                        {
                            (.003, 85.6),
                            (.01, 77.3),
                            (.05, 58.5),
                            (.10, 48.3),
                        }.SelectMany(f =>
                            new Reading[]
                            {
                                new($"{100 * f.Left:0.#} % left, L*", Discharged(f.Left).L, f.L - 1, f.L + 1),
                                new($"{100 * f.Left:0.#} % left, b*", Discharged(f.Left).B, 0, 3.1),
                            }
                        ),
                        new("nothing left, L*", Discharged(0).L, 0, 92.8),
                    ]
            ),
            new(
                "P9",
                "discharge colours are muted against print on white cloth",
                () =>
                    [
                        Off("red at 1 % left", new(54, 49, 13), Printed(DischargeTests.Black(.01), RedInk), 3),
                        Off("red at 10 % left", new(42, 31, 11), Printed(DischargeTests.Black(.10), RedInk), 3),
                        Off("red on white", new(61, 61, 16), Printed(Cloths.White, RedInk), 3),
                    ]
            ),
            new(
                "P10",
                "a ground that resists keeps its hue",
                () =>
                    [
                        Off(
                            "purple to lavender",
                            new(62.8, 10, -37),
                            Residue(62.8, ("azo-reactive-violet", 1), ("anthraquinone-blue", .2)),
                            5
                        ),
                        Off(
                            "kelly to mint",
                            new(76, -27, 10),
                            Residue(
                                76,
                                ("phthalocyanine-green", 1),
                                ("azo-reactive-yellow", .35),
                                ("azo-reactive-navy", .1)
                            ),
                            5
                        ),
                        Off(
                            "royal to mid blue",
                            new(70, -11, -33),
                            Residue(70, ("anthraquinone-blue", .75), ("azo-reactive-violet", .25)),
                            5
                        ),
                        Off("turquoise left", new(81, -29, -17), Residue(81, ("phthalocyanine-turquoise", 1)), 5),
                    ]
            ),
            new(
                "P11",
                "sublimation on black polyester is practically invisible",
                () =>
                    [
                        .. SublimationDye.Default.SelectMany(dye =>
                            new Reading[]
                            {
                                new(
                                    $"{dye.Id}, L* lost",
                                    LabOf(BlackPolyester.Reflectance).L - Dyed(BlackPolyester, dye).L,
                                    0,
                                    6
                                ),
                                new(
                                    $"{dye.Id}, dE00",
                                    Ciede2000.Difference(LabOf(BlackPolyester.Reflectance), Dyed(BlackPolyester, dye)),
                                    0,
                                    7
                                ),
                            }
                        ),
                    ]
            ),
            new(
                "P12",
                "sublimation is muted as the share of polyester falls",
                () =>
                    [
                        .. new (double Share, double L)[] { (1, 20), (.65, 32), (.5, 38), (.35, 47) }.Select(
                            f => new Reading(
                                $"black, {100 * f.Share:0} % polyester, L*",
                                Dyed(Blend(f.Share), "black").L,
                                f.L - 4,
                                f.L + 4
                            )
                        ),
                        .. new[] { "cyan", "magenta" }.SelectMany(dye =>
                            new Reading[]
                            {
                                new(
                                    $"{dye}, 50 % polyester, share of C* lost",
                                    1 - Dyed(Blend(.5), dye).Chroma / Dyed(Blend(1), dye).Chroma,
                                    .10,
                                    .27
                                ),
                                new(
                                    $"{dye}, 50 % polyester, L* gained",
                                    Dyed(Blend(.5), dye).L - Dyed(Blend(1), dye).L,
                                    9,
                                    17
                                ),
                            }
                        ),
                    ]
            ),
            new(
                "P13",
                "white cannot be sublimated: white areas are the cloth",
                () => [new("largest difference in reflectance", Largest(Blend(.5)), 0, 0)]
            ),
            new(
                "P14",
                "dark fibre darkens a heather as the market knows it",
                () =>
                    [
                        .. new (double Share, double L)[] { (.10, 70), (.05, 80), (.01, 91) }.Select(f => new Reading(
                            $"{100 * f.Share:0} % black fibre, L*",
                            LabOf(ClothSpectra.Heather(ClothSpectra.UndyedCotton(), Spectrum.Flat(.03), f.Share)).L,
                            f.L - 4,
                            f.L + 4
                        )),
                    ]
            ),
        ];

    private static IEnumerable<ExpectedFact> Surfaces() =>
        [
            new(
                "P19",
                "the order of two inks matters",
                () =>
                    [
                        Off(
                            "bright yellow over royal",
                            new(63, -19, 57),
                            Printed(Cloths.White, Film("royal-blue", 14), Film("bright-yellow", 14)),
                            3
                        ),
                        Off(
                            "royal over bright yellow",
                            new(24, 2, -26),
                            Printed(Cloths.White, Film("bright-yellow", 14), Film("royal-blue", 14)),
                            3
                        ),
                        Off(
                            "opaque yellow over royal",
                            new(76, -9, 75),
                            Printed(Cloths.White, Film("royal-blue", 14), Film("opaque-yellow", 20)),
                            3
                        ),
                    ]
            ),
            new(
                "P20",
                "gold foil: highlight (1.0, .73, .37) linear, dark when nothing bright is mirrored",
                () =>
                    [
                        new("highlight, red", GoldRgb.R, .99, 1.05),
                        new("highlight, green", GoldRgb.G, .71, .75),
                        new("highlight, blue", GoldRgb.B, .35, .39),
                        new(
                            "mirroring the softbox, Y",
                            Y(StudioLight.Default.Seen(Gold, StudioLight.Default.TiltDegrees / 2)),
                            100,
                            2000
                        ),
                        new(
                            "turned away, Y",
                            Y(StudioLight.Default.Seen(Gold, -StudioLight.Default.TiltDegrees)),
                            0,
                            25
                        ),
                        new("diffuse part, Y", Y(Gold.Diffuse), 0, 5),
                    ]
            ),
            new(
                "P21",
                "white print on a brightened white shirt is visible as creamy",
                () =>
                    [
                        new(
                            "b* of print less b* of cloth",
                            On(Brightened(.25), White("61-64")).B - LabOf(Brightened(.25)).B,
                            6,
                            12
                        ),
                    ]
            ),
            new(
                "P22",
                "a white sheet or transfer is itself on any cloth",
                () =>
                    [
                        .. new[] { 70.0, 85 }.SelectMany(um =>
                            new Reading[]
                            {
                                new($"{um:0} um on black, L*", Printed(Black, Film("white", um)).L, 94, 95.6),
                                new(
                                    $"{um:0} um, dE00 black to red cloth",
                                    Ciede2000.Difference(
                                        Printed(Black, Film("white", um)),
                                        Printed(Red, Film("white", um))
                                    ),
                                    0,
                                    1
                                ),
                            }
                        ),
                    ]
            ),
            new(
                "P23",
                "the darkest print is never black, the whitest never white",
                () =>
                    [
                        new(
                            "darkest of all inks on black cloth, L*",
                            Films.Min(i => Printed(Black, PrintedLayer.Film(i, 20)).L),
                            10,
                            18
                        ),
                        new(
                            "whitest of all inks, L*",
                            Films.Max(i => Printed(Cloths.White, PrintedLayer.Film(i, 100)).L),
                            90,
                            96
                        ),
                    ]
            ),
        ];

    private static Lab On(Ground ground, params InkPass[] passes) => SolidOf(ground, Deposit.Expected, passes);

    private static double Pff(int passes) => On(Black, [.. Enumerable.Repeat(White("61-64"), passes)]).L;

    private static Lab OnBase(string ink, int passes) =>
        On(Black, [.. Enumerable.Repeat(White("61-64"), passes), new InkPass(Ink(ink), Mesh("120-34"), 1, false)]);

    // The brief's rough film: thickness varying by half its mean, 5 % standing fibres, nothing sunk in.
    private static Lab Rough(Ground ground, double um) =>
        LabOf(
            Solid.Colour(
                ground,
                [new PrintedLayer(Ink("white"), um, ThicknessSpread.Gamma(0.5), 0) { StainShare = 0 }],
                PressSettings.Automatic with
                {
                    BareFibreFirstPass = 0.05,
                }
            )
        );

    /// <summary>Largest of the differences in L*, a* and b*.</summary>
    private static Reading Off(string what, Lab expected, Lab actual, double limit) =>
        new(
            FormattableString.Invariant(
                $"{what} ({actual.L:0}, {actual.A:0}, {actual.B:0}), most off ({expected.L:0.#}, {expected.A:0}, {expected.B:0})"
            ),
            new[] { expected.L - actual.L, expected.A - actual.A, expected.B - actual.B }.Max(Math.Abs),
            0,
            limit
        );

    private static PrintedLayer RedInk => InCloth(2.5, Pigment.Red);

    private static Lab Discharged(double left) => LabOf(DischargeTests.Black(left).Colour.Reflectance);

    private static Lab Residue(double l, params (string, double)[] dyes) =>
        LabOf(DischargeTests.ResidueOfLightness(l, dyes));

    private static GarmentColour BlackPolyester => Blend(1) with { Reflectance = Black.Colour.Reflectance };

    private static GarmentColour Blend(double polyester) =>
        Cloths.White.Colour with
        {
            Reflectance = ClothSpectra.WhitePolyester(),
            Fibres = [new(FibreKind.Cotton, 1 - polyester), new(FibreKind.Polyester, polyester)],
        };

    private static Lab Dyed(GarmentColour cloth, SublimationDye dye) => LabOf(Sublimation.Cloth(cloth, [(dye, 1)]));

    private static Lab Dyed(GarmentColour cloth, string dye) =>
        Dyed(cloth, SublimationDye.Default.Single(d => d.Id == dye));

    private static double Largest(GarmentColour cloth)
    {
        var printed = Sublimation.Cloth(cloth, [.. SublimationDye.Default.Select(d => (d, 0.0))]);
        return Enumerable.Range(0, Spectrum.Bands).Max(i => Math.Abs(printed[i] - cloth.Reflectance[i]));
    }

    private static MetalSurface Gold => MetalSurface.Foil(Metal.Gold);

    private static LinearRgb GoldRgb =>
        Srgb.FromXyz(Tristimulus.Of(Metal.Gold.Reflectance(), ViewingLight.D65), ViewingLight.D65);

    private static double Y(Spectrum s) => Tristimulus.Of(s, ViewingLight.D50).Y;

    private static IEnumerable<Ink> Films => InkLibrary.OfKind(InkKind.Plastisol);
}
