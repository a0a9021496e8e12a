using System.Text.Json;
using System.Text.Json.Serialization;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>A press as a file and as the desk keeps it: its settings, where each number came from, what is not known.</summary>
public static class PressJson
{
    private static JsonSerializerOptions Options { get; } =
        new(JsonSerializerDefaults.Web)
        {
            WriteIndented = true,
            NewLine = "\n",
            UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
            Converters = { new JsonStringEnumConverter(allowIntegerValues: false) },
        };

    public static string Write(FittedPress press) => JsonSerializer.Serialize(press, Options) + "\n";

    /// <param name="file">Its name, for messages.</param>
    /// <exception cref="ReadingSheetProblem">Not such a file, or a number in it that no press has.</exception>
    public static FittedPress Read(string json, string file)
    {
        FittedPress? press;
        try
        {
            press = JsonSerializer.Deserialize<FittedPress>(json, Options);
        }
        catch (JsonException e)
        {
            throw new ReadingSheetProblem(
                $"{file}, line {(e.LineNumber ?? 0) + 1}, field {e.Path ?? "$"}: not a press that is understood",
                "give the file that proofdesk press-fit wrote"
            );
        }
        if (press?.Press is not { } p)
            throw new ReadingSheetProblem(
                $"{file}: the field press is missing",
                "give the file that proofdesk press-fit wrote"
            );
        (string Field, double Value, double Least, double Most)[] limits =
        [
            ("growthUm", p.GrowthUm, 0, 200),
            ("growthOnBaseUm", p.GrowthOnBaseUm, 0, 200),
            ("growthNoiseUm", p.GrowthNoiseUm, 0, 50),
            ("setUpSigmaMm", p.SetUpSigmaMm, 0, 2),
            ("palletSigmaMm", p.PalletSigmaMm, 0, 2),
            ("jitterSigmaMm", p.JitterSigmaMm, 0, 2),
            ("transfer", p.Transfer, 0.1, 1.5),
            ("secondPassTransfer", p.SecondPassTransfer, 0.1, 1.5),
            ("wickedShare", p.WickedShare, 0, 1),
            ("bareFibreFirstPass", p.BareFibreFirstPass, 0, 0.6),
            ("bareFibreOnBase", p.BareFibreOnBase, 0, 0.6),
            ("thicknessCvFirstPass", p.ThicknessCvFirstPass, 0, 1.5),
            ("thicknessCvOnBase", p.ThicknessCvOnBase, 0, 1.5),
            ("wetTrap", p.WetTrap, 0.1, 1.5),
            ("whiteOpacityScale", p.WhiteOpacityScale, 0.2, 4),
            ("heldFeatureScale", p.HeldFeatureScale, 0.2, 4),
        ];
        foreach (var (field, value, least, most) in limits)
            if (!(value >= least && value <= most))
                throw new ReadingSheetProblem(
                    FormattableString.Invariant(
                        $"{file}, field press.{field} is {value:0.###}; {least:0.###} to {most:0.###} is possible"
                    ),
                    "fit the press again from its readings"
                );
        return press;
    }
}
