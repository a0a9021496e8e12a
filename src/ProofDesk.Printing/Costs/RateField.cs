using System.Collections.Immutable;

namespace ProofDesk.Printing.Costs;

/// <summary>One number of a rate card as a form and a file name it.</summary>
/// <param name="Name">As in the file: "hourRate".</param>
/// <param name="Unit">"min", "/h", "%" or "" for the shop's money.</param>
public sealed record RateField(
    string Group,
    string Name,
    string Label,
    string Unit,
    double Least,
    double Most,
    Func<RateCard, double> Of,
    Func<RateCard, double, RateCard> With
)
{
    private const string Work = "Work";
    private const string Screens = "Screens";
    private const string Press = "Press";
    private const string Jets = "Jets";
    private const string Pressed = "Heat press, cutting, sewing";
    private const string Material = "Material";
    private const string Spoilt = "Spoilage";

    /// <summary>In the order of the form.</summary>
    public static ImmutableArray<RateField> All { get; } =
    [
        Money(
            Work,
            "hourRate",
            "An hour of work, with place and machine",
            c => c.HourRate,
            (c, v) => c with { HourRate = v }
        ),
        Minutes(
            Screens,
            "screenMakeMinutes",
            "Making one screen",
            c => c.ScreenMakeMinutes,
            (c, v) => c with { ScreenMakeMinutes = v }
        ),
        Minutes(
            Screens,
            "setUpMinutesAutomatic",
            "Setting one up, automatic",
            c => c.SetUpMinutesAutomatic,
            (c, v) => c with { SetUpMinutesAutomatic = v }
        ),
        Minutes(
            Screens,
            "setUpMinutesManual",
            "Setting one up, manual",
            c => c.SetUpMinutesManual,
            (c, v) => c with { SetUpMinutesManual = v }
        ),
        Minutes(
            Screens,
            "tearDownMinutes",
            "Taking one down and reclaiming it",
            c => c.TearDownMinutes,
            (c, v) => c with { TearDownMinutes = v }
        ),
        Money(
            Screens,
            "screenMaterial",
            "Film, emulsion and tape of one",
            c => c.ScreenMaterial,
            (c, v) => c with { ScreenMaterial = v }
        ),
        Hourly(
            "automaticPerHour",
            "Automatic, no flash",
            c => c.AutomaticPerHour,
            (c, v) => c with { AutomaticPerHour = v }
        ),
        Hourly(
            "automaticFlashPerHour",
            "Automatic, with flash",
            c => c.AutomaticFlashPerHour,
            (c, v) => c with { AutomaticFlashPerHour = v }
        ),
        Hourly(
            "manualOnePerHour",
            "Manual, one colour on pale cloth",
            c => c.ManualOnePerHour,
            (c, v) => c with { ManualOnePerHour = v }
        ),
        Hourly(
            "manualSixPerHour",
            "Manual, six colours on dark cloth",
            c => c.ManualSixPerHour,
            (c, v) => c with { ManualSixPerHour = v }
        ),
        Minutes(
            Jets,
            "jetPaleMinutes",
            "Jetting without white",
            c => c.JetPaleMinutes,
            (c, v) => c with { JetPaleMinutes = v }
        ),
        Minutes(
            Jets,
            "jetDarkMinutes",
            "Jetting with white",
            c => c.JetDarkMinutes,
            (c, v) => c with { JetDarkMinutes = v }
        ),
        Minutes(
            Jets,
            "jetHandlingMinutes",
            "Pretreating, drying, curing: hands on each",
            c => c.JetHandlingMinutes,
            (c, v) => c with { JetHandlingMinutes = v }
        ),
        Minutes(
            Jets,
            "rollSetUpMinutes",
            "Loading a roll, once a run",
            c => c.RollSetUpMinutes,
            (c, v) => c with { RollSetUpMinutes = v }
        ),
        Minutes(
            Pressed,
            "heatPressMinutes",
            "One close, with laying and peeling",
            c => c.HeatPressMinutes,
            (c, v) => c with { HeatPressMinutes = v }
        ),
        Minutes(
            Pressed,
            "weedingMinutesPer100Cm2",
            "Cutting and weeding 100 cm2 of sheet",
            c => c.WeedingMinutesPer100Cm2,
            (c, v) => c with { WeedingMinutesPer100Cm2 = v }
        ),
        Minutes(
            Pressed,
            "sewingMinutes",
            "Cutting and sewing a garment",
            c => c.SewingMinutes,
            (c, v) => c with { SewingMinutes = v }
        ),
        Money(
            Material,
            "garment",
            "One blank garment, when few are bought",
            c => c.Garment,
            (c, v) => c with { Garment = v }
        ),
        Money(Material, "inkPerKg", "A kilogram of screen ink", c => c.InkPerKg, (c, v) => c with { InkPerKg = v }),
        Money(
            Material,
            "jetInkPerKg",
            "A kilogram of jetted ink",
            c => c.JetInkPerKg,
            (c, v) => c with { JetInkPerKg = v }
        ),
        Money(
            Material,
            "rollPerM2",
            "A square metre of paper or cloth from the roll",
            c => c.RollPerM2,
            (c, v) => c with { RollPerM2 = v }
        ),
        Money(
            Material,
            "sheetPerM2",
            "A square metre of sheet or foil",
            c => c.SheetPerM2,
            (c, v) => c with { SheetPerM2 = v }
        ),
        new(
            Spoilt,
            "spoilagePercent",
            "Of the pieces",
            "%",
            0,
            50,
            c => 100 * c.SpoiltShare,
            (c, v) => c with { SpoiltShare = v / 100 }
        ),
        new(
            Spoilt,
            "spoiltAtLeast",
            "At least",
            "pieces",
            0,
            100,
            c => c.SpoiltAtLeast,
            (c, v) => c with { SpoiltAtLeast = (int)Math.Round(v) }
        ),
    ];

    /// <summary>What is wrong with a value, or null: "700 min is given; 0 to 600 is possible".</summary>
    public string? Problem(double value)
    {
        var given = $"{value.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture)} {Unit}".TrimEnd();
        if (!(value >= Least && value <= Most))
            return FormattableString.Invariant($"{given} is given; {Least:0.###} to {Most:0.###} is possible");
        return Unit == "pieces" && value != Math.Floor(value) ? $"{given} is given; whole pieces are counted" : null;
    }

    private static RateField Money(
        string group,
        string name,
        string label,
        Func<RateCard, double> of,
        Func<RateCard, double, RateCard> with
    ) => new(group, name, label, "", 0, 100_000, of, with);

    private static RateField Minutes(
        string group,
        string name,
        string label,
        Func<RateCard, double> of,
        Func<RateCard, double, RateCard> with
    ) => new(group, name, label, "min", 0, 600, of, with);

    private static RateField Hourly(
        string name,
        string label,
        Func<RateCard, double> of,
        Func<RateCard, double, RateCard> with
    ) => new(Press, name, label, "/h", 1, 5000, of, with);
}
