using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// What screens cost a shop, in minutes of work; in money only where the shop says what an hour and a kilogram of ink cost it.
/// </summary>
/// <param name="Name">Where the numbers come from.</param>
/// <param name="MakeMinutes">Making one screen.</param>
/// <param name="SetUpMinutes">Setting one up.</param>
/// <param name="TearDownMinutes">Taking one down and reclaiming it.</param>
public sealed record ScreenRates(string Name, double MakeMinutes, double SetUpMinutes, double TearDownMinutes)
{
    /// <summary>An hour of work in the shop's money; null = not said.</summary>
    public double? HourRate { get; init; }

    /// <summary>A kilogram of ink in the shop's money; null = not said.</summary>
    public double? InkRatePerKg { get; init; }

    public double MinutesPerScreen => MakeMinutes + SetUpMinutes + TearDownMinutes;

    /// <summary>
    /// Middles of what is common practice: screens 10 to 20 minutes each, set-up 3 to 5 on an automatic with
    /// pre-registration and 8 to 15 on a manual, tear-down and reclaim 5 to 10.
    /// </summary>
    public static ScreenRates CommonPractice(PressClass press) =>
        new("common practice", 15, press == PressClass.Automatic ? 4 : 12, 7.5);

    /// <summary>Screens and ink of one print of a run, in the shop's money; null where it has not said both rates.</summary>
    public double? PerPrint(int screens, double gramsToMix, int quantity) =>
        HourRate is { } hour && InkRatePerKg is { } ink
            ? (screens * MinutesPerScreen / 60 * hour + gramsToMix / 1000 * ink) / quantity
            : null;
}
