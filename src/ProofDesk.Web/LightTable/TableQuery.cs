namespace ProofDesk.Web.LightTable;

/// <summary>How the films lie, as the address of the page says it; the page works without script by it.</summary>
public sealed class TableQuery
{
    public string? Print { get; set; }
    public string? Ground { get; set; }

    /// <summary>"light" in ink colours, "black" as film is, "cloth".</summary>
    public string? Lay { get; set; }

    /// <summary>Screens that lie on the table; none named: all that run on this cloth.</summary>
    public List<int> On { get; set; } = [];

    /// <summary>How far each film is slid aside, % of the sheet, in print order.</summary>
    public List<double> Aside { get; set; } = [];

    /// <summary>"alone-3", "to-3" or "all": wins over <see cref="On"/>.</summary>
    public string? Show { get; set; }

    /// <summary>Screen whose editor is open.</summary>
    public int? Film { get; set; }

    /// <summary>Where the loupe stands, mm.</summary>
    public double? X { get; set; }
    public double? Y { get; set; }
    public double? Mm { get; set; }

    public bool LiesOn(int screen, bool runs) =>
        Show?.Split('-') switch
        {
            ["alone", var alone] => alone == $"{screen}",
            ["to", var last] => runs && int.TryParse(last, out var to) && screen <= to,
            ["all"] => runs,
            _ => On.Count > 0 ? On.Contains(screen) : runs,
        };

    public double AsidePercent(int screen) =>
        Show is null && screen <= Aside.Count && double.IsFinite(Aside[screen - 1])
            ? Math.Clamp(Aside[screen - 1], 0, 100)
            : 0;
}
