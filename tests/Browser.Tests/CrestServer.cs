using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A desk with one order: the crest of the sample, 90 mm wide, four films that are made quickly.</summary>
public class CrestServer : RunningServer
{
    public const double WidthMm = 90;

    public Guid Order { get; protected set; }

    /// <summary>Garments of the order.</summary>
    protected virtual string[] Grounds => ["tee/black"];

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        var fields = OrderFields("Regatta shirts");
        fields["Place"] = "Front";
        fields["WidthMm"] = "90";
        fields["FromCentreMm"] = "0";
        for (var line = 0; line < Grounds.Length; line++)
        {
            fields[$"Lines[{line}].Ground"] = Grounds[line];
            fields[$"Lines[{line}].Counts[0].Size"] = "M";
            fields[$"Lines[{line}].Counts[0].Count"] = "12";
        }
        var crest = await File.ReadAllTextAsync(
            Path.Combine(AppContext.BaseDirectory, "SampleArt", "rowing-crest.svg")
        );
        var made = await Staff.PostAsync(
            await Staff.GetAsync("/orders/new"),
            fields,
            form: 1,
            file: ("Art", "rowing-crest.svg", crest)
        );
        Order = Guid.Parse(made.Location!.Split('/')[^1]);
    }
}
