using System.Collections.Immutable;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Costs;

/// <summary>From this many pieces on something costs this share of its price.</summary>
/// <param name="From">Pieces, 1 or more.</param>
/// <param name="Share">Of the price for one, 0 to 1.</param>
public sealed record PriceBreak(int From, double Share);

/// <summary>
/// What work and material cost a shop: minutes, pieces an hour and its own money. The minutes of
/// <see cref="CommonPractice"/> are middles of what is common practice in the trade; the money is an example that every shop
/// replaces by its own.
/// </summary>
/// <param name="Name">Where the numbers come from.</param>
public sealed record RateCard(string Name)
{
    private static readonly ScreenRates OnAutomatic = ScreenRates.CommonPractice(PressClass.Automatic);
    private static readonly ScreenRates OnManual = ScreenRates.CommonPractice(PressClass.Manual);

    /// <summary>Common practice for times, an example for money.</summary>
    public static RateCard CommonPractice { get; } = new("common practice; the money is an example");

    /// <summary>The same where only minutes are said.</summary>
    public string MinutesName => Name == CommonPractice.Name ? "common practice" : Name;

    /// <summary>An hour of one person, place and machine.</summary>
    public double HourRate { get; init; } = 40;

    /// <summary>Making one screen, 10 to 20 minutes.</summary>
    public double ScreenMakeMinutes { get; init; } = OnAutomatic.MakeMinutes;

    /// <summary>Setting one up on an automatic with pre-registration, 3 to 5.</summary>
    public double SetUpMinutesAutomatic { get; init; } = OnAutomatic.SetUpMinutes;

    /// <summary>Setting one up on a manual press, 8 to 15.</summary>
    public double SetUpMinutesManual { get; init; } = OnManual.SetUpMinutes;

    /// <summary>Taking one down and reclaiming it, 5 to 10.</summary>
    public double TearDownMinutes { get; init; } = OnAutomatic.TearDownMinutes;

    /// <summary>Film, emulsion, tape and chemicals of one screen.</summary>
    public double ScreenMaterial { get; init; } = 3;

    /// <summary>Pieces an hour of an automatic without flash, 500 to 800.</summary>
    public double AutomaticPerHour { get; init; } = 650;

    /// <summary>Pieces an hour of an automatic with flash, 300 to 500.</summary>
    public double AutomaticFlashPerHour { get; init; } = 400;

    /// <summary>Pieces an hour of a manual press, one colour on pale cloth, 80 to 150.</summary>
    public double ManualOnePerHour { get; init; } = 115;

    /// <summary>Pieces an hour of a manual press, six colours on dark cloth with base and flash, 20 to 40.</summary>
    public double ManualSixPerHour { get; init; } = 30;

    /// <summary>Minutes of jetting a garment without white, half to one.</summary>
    public double JetPaleMinutes { get; init; } = 0.75;

    /// <summary>Minutes of jetting one with white, 2 to 5.</summary>
    public double JetDarkMinutes { get; init; } = 3.5;

    /// <summary>Pretreating, drying and curing a jetted garment, minutes of hands (from memory; with it screens get cheaper where the trade says).</summary>
    public double JetHandlingMinutes { get; init; } = 1.9;

    /// <summary>One close of a heat press with laying and peeling, minutes (from memory).</summary>
    public double HeatPressMinutes { get; init; } = 1;

    /// <summary>Cutting and weeding 100 cm2 of sheet, minutes (from memory: depends on the art more than anything here).</summary>
    public double WeedingMinutesPer100Cm2 { get; init; } = 1.5;

    /// <summary>Cutting and sewing one garment, minutes (from memory).</summary>
    public double SewingMinutes { get; init; } = 18;

    /// <summary>Loading a printer with a roll and its first print, minutes once a run (from memory).</summary>
    public double RollSetUpMinutes { get; init; } = 15;

    /// <summary>A kilogram of screen ink.</summary>
    public double InkPerKg { get; init; } = 18;

    /// <summary>A kilogram of jetted ink.</summary>
    public double JetInkPerKg { get; init; } = 100;

    /// <summary>A square metre of printed paper or cloth.</summary>
    public double RollPerM2 { get; init; } = 6;

    /// <summary>A square metre of sheet to cut, or of foil.</summary>
    public double SheetPerM2 { get; init; } = 14;

    /// <summary>One blank garment, when few are bought.</summary>
    public double Garment { get; init; } = 5;

    /// <summary>Blank garments get cheaper in steps; empty = never.</summary>
    public ImmutableArray<PriceBreak> GarmentBreaks { get; init; } = [new(24, 0.95), new(72, 0.9), new(144, 0.86)];

    /// <summary>Share of pieces that spoil, 2 to 3 %.</summary>
    public double SpoiltShare { get; init; } = Spoilage.Share;

    /// <summary>At least so many pieces spoil, 1 to 2.</summary>
    public int SpoiltAtLeast { get; init; } = Spoilage.AtLeast;

    /// <summary>What screens take on a press of this class.</summary>
    public ScreenRates Screens(PressClass press) =>
        new(
            MinutesName,
            ScreenMakeMinutes,
            press == PressClass.Automatic ? SetUpMinutesAutomatic : SetUpMinutesManual,
            TearDownMinutes
        )
        {
            HourRate = HourRate,
            InkRatePerKg = InkPerKg,
        };

    /// <summary>Minutes one garment is on the press.</summary>
    /// <param name="passes">Printing passes, 1 or more.</param>
    /// <param name="flashes">Flashes between them.</param>
    public double PressMinutes(PressClass press, int passes, int flashes)
    {
        if (press == PressClass.Automatic)
            return 60 / (flashes > 0 ? AutomaticFlashPerHour : AutomaticPerHour);
        // A manual press takes each colour in turn: between one colour and base, six colours and a flash, minutes grow evenly.
        var (one, six) = (60 / ManualOnePerHour, 60 / ManualSixPerHour);
        const int further = 7;
        return one + (passes - 1 + flashes) * (six - one) / further;
    }

    /// <summary>Pieces to begin with so that <paramref name="pieces"/> are good.</summary>
    public int WithSpoilt(int pieces) => pieces + Spoilage.Of(pieces, SpoiltShare, SpoiltAtLeast);

    /// <summary>What a blank garment costs when this many are bought.</summary>
    public double GarmentAt(int pieces) => Garment * (BreakAt(pieces)?.Share ?? 1);

    /// <summary>The step of the garments' price that so many pieces reach; null below the first.</summary>
    public PriceBreak? BreakAt(int pieces) =>
        GarmentBreaks.Where(b => b.From <= pieces).OrderBy(b => b.From).LastOrDefault();
}
