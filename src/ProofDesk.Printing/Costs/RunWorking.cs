using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Costs;

/// <summary>One row of the sum of a run.</summary>
/// <param name="Part">"Set-up".</param>
/// <param name="Working">How the amount comes about, with its numbers.</param>
/// <param name="Amount">In the shop's money, for the whole run.</param>
public sealed record CostRow(string Part, string Working, double Amount);

/// <summary>The sum of a run row by row, so that anybody can add it up again.</summary>
public static class RunWorking
{
    /// <summary>Rows whose amounts add up to <see cref="RunCost.Total"/>.</summary>
    public static ImmutableArray<CostRow> Of(CostedPrint print, RateCard card, ImmutableArray<int> pieces)
    {
        var cost = RunCost.Of(print, card, pieces);
        return
        [
            new("Set-up", SetUp(print, card), cost.SetUp),
            new("Work", PerGround(print, pieces, g => Work(print, card, g)), cost.Work),
            new("Ink and sheets", Material(print, card, pieces), cost.Ink),
            new("Garments", Garments(card, cost.Pieces), cost.Garments),
            new("Spoilage", Spoilt(card, cost), cost.Spoilage),
        ];
    }

    private static string SetUp(CostedPrint print, RateCard card)
    {
        var parts = new List<string>();
        if (print.Screens > 0)
        {
            var rates = card.Screens(print.Press);
            parts.Add(
                Text(
                    $"{Count(print.Screens, "screen")}, each {rates.MinutesPerScreen:0.##} min (make {rates.MakeMinutes:0.##}, set up {rates.SetUpMinutes:0.##}, take down {rates.TearDownMinutes:0.##}) at {card.HourRate:0.00} an hour and {card.ScreenMaterial:0.00} of film and emulsion"
                )
            );
        }
        if (print.Work.JetsRolls || print.Work.CutsSheets)
            parts.Add(Text($"loading a roll once, {card.RollSetUpMinutes:0.##} min at {card.HourRate:0.00} an hour"));
        return parts.Count == 0 ? "no screens, nothing to load" : string.Join("; ", parts);
    }

    private static string Work(CostedPrint print, RateCard card, CostedGround ground)
    {
        var parts = new List<string>();
        if (ground.Passes > 0)
            parts.Add(
                Text(
                    $"{card.PressMinutes(print.Press, ground.Passes, ground.Flashes):0.##} on the {(print.Press == PressClass.Automatic ? "automatic" : "manual")} press ({Count(ground.Passes, "pass", "passes")}, {(ground.Flashes == 0 ? "no flash" : Count(ground.Flashes, "flash", "flashes"))})"
                )
            );
        if (print.Work.JetsGarments)
            parts.Add(
                Text(
                    $"{(ground.HasWhite ? card.JetDarkMinutes : card.JetPaleMinutes):0.##} jetting {(ground.HasWhite ? "with" : "without")} white and {card.JetHandlingMinutes:0.##} of pretreating, drying and curing"
                )
            );
        if (print.Work.CutsSheets)
            parts.Add(
                Text(
                    $"{ground.SheetCm2 / 100 * card.WeedingMinutesPer100Cm2:0.##} cutting and weeding {ground.SheetCm2:0} cm2"
                )
            );
        if (print.Work.HeatPresses > 0)
            parts.Add(
                Text(
                    $"{print.Work.HeatPresses * card.HeatPressMinutes:0.##} at the heat press ({Count(print.Work.HeatPresses, "close")})"
                )
            );
        if (print.Work.Sews)
            parts.Add(Text($"{card.SewingMinutes:0.##} cutting and sewing"));
        return Text(
            $"{RunCost.WorkMinutes(print, card, ground):0.##} min at {card.HourRate:0.00} an hour: {string.Join(", ", parts)}"
        );
    }

    private static string Material(CostedPrint print, RateCard card, ImmutableArray<int> pieces)
    {
        var each = PerGround(print, pieces, g => Ink(print, card, g));
        return print.Screens == 0
            ? each
            : each
                + Text(
                    $"; and {100 * RunCost.FloodLost:0} % of the {InkListMaker.FloodGrams:0} g that flood each of {Count(print.Screens, "screen")} stay behind"
                );
    }

    private static string Ink(CostedPrint print, RateCard card, CostedGround ground)
    {
        var jets = print.Work.JetsGarments || print.Work.JetsRolls;
        var parts = new List<string>();
        if (!print.Work.CutsSheets)
            parts.Add(
                jets
                    ? Text($"{ground.Grams:0.0#} g of jetted ink at {card.JetInkPerKg:0.00} a kilogram")
                    : Text(
                        $"{ground.Grams:0.0#} g of ink, {InkListMaker.RealUse:0.0} times that in real use, at {card.InkPerKg:0.00} a kilogram"
                    )
            );
        if (print.Work.JetsRolls)
            parts.Add(Text($"{ground.SheetCm2:0} cm2 of the roll at {card.RollPerM2:0.00} a square metre"));
        if (print.Work.CutsSheets || print.Work.LaysFoil)
            parts.Add(
                Text(
                    $"{ground.SheetCm2:0} cm2 of {(print.Work.LaysFoil ? "foil" : "sheet")} at {card.SheetPerM2:0.00} a square metre"
                )
            );
        return string.Join(", ", parts);
    }

    private static string Garments(RateCard card, int pieces) =>
        card.BreakAt(pieces) is { } step
            ? Text(
                $"{pieces} at {card.GarmentAt(pieces):0.00}: {100 * step.Share:0.#} % of {card.Garment:0.00} from {step.From} pieces on"
            )
            : Text($"{pieces} at {card.Garment:0.00}");

    private static string Spoilt(RateCard card, RunCost cost)
    {
        var spoilt = card.WithSpoilt(cost.Pieces) - cost.Pieces;
        return spoilt == 0
            ? "none"
            : Text(
                $"{Count(spoilt, "piece")} ({100 * card.SpoiltShare:0.#} % of {cost.Pieces}, at least {card.SpoiltAtLeast}) with garment, work and ink, {cost.Spoilage / spoilt:0.00} each"
            );
    }

    /// <summary>The same words once where all grounds share them; else each ground with its pieces.</summary>
    private static string PerGround(CostedPrint print, ImmutableArray<int> pieces, Func<CostedGround, string> words)
    {
        var said = print.Grounds.Select((g, i) => (Pieces: pieces[i], g.Name, Words: words(g))).ToArray();
        return said.Select(s => s.Words).Distinct().Count() == 1
            ? Text($"{Count(pieces.Sum(), "piece")}, each {said[0].Words}")
            : string.Join(
                "; ",
                said.Where(s => s.Pieces > 0).Select(s => Text($"{s.Pieces} of {s.Name}, each {s.Words}"))
            );
    }

    private static string Count(int n, string one, string? many = null) =>
        n == 1 ? $"1 {one}" : Text($"{n} {many ?? one + "s"}");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
