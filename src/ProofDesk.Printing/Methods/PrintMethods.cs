using System.Collections.Immutable;
using ProofDesk.Printing.Cutting;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Methods;

/// <summary>The list of methods: adding one adds a line here, a file in Separations, one in Presses and a page in docs/methods.</summary>
public static class PrintMethods
{
    public static ImmutableArray<PrintMethod> All { get; } =
    [
        new(
            "plastisol",
            "Screen print, plastisol",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "a film of ink on the cloth; white base under colours on dark cloth",
            "flash units, dryers and wash-up solvents can burn, start fires and harm lungs and skin; follow the ink supplier's sheet and local rules, and test-wash before the run"
        )
        {
            Rules = new() { DischargeBase = DischargeInks.Base },
        },
        new(
            "water-based",
            "Screen print, water-based",
            InkKind.WaterBased,
            InkKind.HighSolidsWaterBased,
            "thin pigment inside the cloth: soft, and faded on dark cloth unless a high-solids white base runs first",
            "dryers and additives can burn and irritate; ventilate, follow the ink supplier's sheet and local rules, and test-wash before the run"
        ),
        new(
            "discharge",
            "Screen print, discharge",
            InkKind.Discharge,
            InkKind.Discharge,
            "takes the dye out of cotton and leaves pigment in it: soft, hardly any weight, on dark cotton that can be discharged",
            DischargeInks.Caution
        )
        {
            Separate = DischargeSeparator.Separate,
            Rules = DischargeSeparator.Rules,
        },
        new(
            "metallic",
            "Screen print, metallic ink",
            InkKind.Metallic,
            InkKind.Plastisol,
            "metal flakes in plastisol: gleams where it mirrors a light, duller than foil and outlives it",
            "flash units, dryers and wash-up solvents can burn, start fires and harm lungs and skin; metal powder must not be breathed; follow the ink supplier's sheet and local rules, and test-wash before the run"
        )
        {
            Separate = MetallicSeparator.Separate,
            Rules = MetallicSeparator.Rules,
            Press = new MetallicPress(),
        },
        new(
            "foil",
            "Foil on printed adhesive",
            InkKind.Foil,
            InkKind.Foil,
            "a mirror of foil wherever adhesive was printed: opaque, solids only, loses flakes with washing",
            FoilInks.Caution
        )
        {
            Separate = FoilSeparator.Separate,
            Rules = FoilSeparator.Rules,
            Press = new FoilPress(),
            Production = FoilFiles.Of,
        },
        new(
            "vinyl",
            "Cut vinyl, pressed on",
            InkKind.Sheet,
            InkKind.Sheet,
            "opaque sheets cut to shape, one a colour: solid, sharp and even on any cloth, and a sheet one can feel",
            "heat presses and cutting knives hurt; temperature, time, pressure and the cloth a sheet holds on are the sheet supplier's: follow his sheet, press a test piece and wash it before the run"
        )
        {
            Separate = VinylSeparator.Separate,
            Rules = VinylSeparator.Rules,
            Press = new VinylPress(),
            Production = VinylFiles.Of,
            Reversed = true,
        },
        new(
            "plastisol-transfer",
            "Plastisol transfer",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "plastisol printed in reverse on a carrier and pressed on: smooth, opaque and even, and higher than a direct print",
            "heat presses burn, adhesive powder is dust and hot ink fumes; powder, temperature, time, pressure and peel are the suppliers': follow their sheets and local rules, press a test piece and wash it before the run"
        )
        {
            Separate = TransferSeparator.Separate,
            Press = TransferPress.OnCarrier,
            Production = CarrierOrder.Of,
            Reversed = true,
        },
        new(
            "four-colour-process",
            "Screen print, four-colour process",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "cyan, magenta, yellow and black dots over a white base on dark cloth: photographs and paintings in few screens",
            "flash units, dryers and wash-up solvents can burn, start fires and harm lungs and skin; follow the ink supplier's sheet and local rules, and test-wash before the run"
        )
        {
            Separate = FourColourProcess.Separate,
        },
        new(
            "simulated-process",
            "Screen print, simulated process",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "a few spot inks chosen for the picture, halftoned over a white base and under a highlight white: paintings and photographs on any cloth",
            "flash units, dryers and wash-up solvents can burn, start fires and harm lungs and skin; follow the ink supplier's sheet and local rules, and test-wash before the run"
        )
        {
            Separate = SimulatedProcess.Separate,
        },
        new(
            "direct-to-garment",
            "Direct to garment",
            InkKind.Jet,
            InkKind.Jet,
            "jetted cyan, magenta, yellow and black, over jetted white where the cloth is dark: any picture, one shirt or a hundred",
            "pretreatment mist and heat presses can irritate and burn; ventilate, follow the ink and pretreatment suppliers' sheets and local rules, and test-wash before the run"
        )
        {
            Separate = DirectToGarment.Separate,
            Press = new JetPress(),
            Production = DirectToGarment.Files,
        },
        new(
            "sublimation",
            "Dye sublimation",
            InkKind.Dye,
            InkKind.Dye,
            "dye that goes into polyester and nowhere else: no white, pale garments only, nothing to feel",
            "heat presses burn, and hot transfers give off fumes; ventilate, follow the supplier's sheets and local rules, and press a test square before the run"
        )
        {
            Separate = DyeSeparator.Separate,
            Press = SublimationPress.Sewn,
            AllOver = new(15, Always: false, "the paper is laid by hand"),
            Device = DyeSeparator.Device,
            Production = DyePrintFile.Of,
            Reversed = true,
        },
        new(
            "cut-and-sew",
            "Cut and sew, dye sublimation",
            InkKind.Dye,
            InkKind.Dye,
            "white polyester dyed in flat panels and sewn afterwards: all over, no creases, art meets at seams within a few mm",
            "heat presses burn, and hot transfers give off fumes; ventilate, follow the supplier's sheets and local rules, and press a test square before the run"
        )
        {
            Separate = DyeSeparator.Separate,
            Press = new CutAndSewPress(),
            AllOver = new(15, Always: true, "the seam allowance is 10 mm and cloth is cut by hand"),
            Device = DyeSeparator.PanelDevice,
            Production = PanelFiles.OfCutAndSew,
            Reversed = true,
        },
        new(
            "all-over-belt",
            "All-over belt print, water-based",
            InkKind.WaterBased,
            InkKind.HighSolidsWaterBased,
            "whole garments under wide screens on a belt: few colours, bare seams, each garment a little different",
            "dryers and additives can burn and irritate, belts catch hands and cloth; guard, ventilate, follow the ink supplier's sheet and local rules, and test-wash before the run"
        )
        {
            Separate = BeltSeparator.Separate,
            Press = new BeltPress(),
            Rules = new() { HasBase = false, HasTones = false },
            AllOver = new(50, Always: true, "a garment lies within 5 to 15 mm of its place on the belt"),
            Device = BeltSeparator.Device,
            Production = PanelFiles.OfBelt,
        },
    ];

    /// <summary>The method with this identifier, or null.</summary>
    public static PrintMethod? Find(string id) => All.FirstOrDefault(m => m.Id == id);
}
