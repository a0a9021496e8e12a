using System.Globalization;
using System.Text;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Inks;

/// <summary>An ink drawn down on a black and white card and measured, without an instrument: text as a program would export it.</summary>
internal sealed record SimulatedCard(Ink Ink, double FilmUm)
{
    /// <summary>The keyword line, so that a test can leave it out or break it.</summary>
    public string Thickness { get; init; } = FormattableString.Invariant($"FILM_THICKNESS_UM \"{FilmUm}\"");
    public string Geometry { get; init; } = "MEASUREMENT_GEOMETRY \"45/0\"";
    public string Norm { get; init; } = "SPECTRAL_NORM \"100\"";
    public double Ki { get; init; } = Ink.Convention.Ki;
    public double Percent { get; init; } = 100;
    public string Prefix { get; init; } = "SPECTRAL_NM";
    public int FirstNm { get; init; } = 380;
    public int LastNm { get; init; } = 730;
    public int StepNm { get; init; } = 10;

    /// <summary>Per cent of the ink in a white of so many times our default white's strength, opaque.</summary>
    public double[] Tints { get; init; } = [];
    public double WhiteStrength { get; init; } = 1;

    public IEnumerable<(string Name, Spectrum Reflectance)> Rows =>
        [
            ("over black", Card(Ink.AbsorptionPerUm, Ink.ScatteringPerUm, FilmUm, 0.04)),
            ("over white", Card(Ink.AbsorptionPerUm, Ink.ScatteringPerUm, FilmUm, 0.85)),
            ("black", Spectrum.Flat(0.04)),
            ("white", Spectrum.Flat(0.85)),
            .. Tints.Select(percent => (FormattableString.Invariant($"tint {percent}"), Tint(percent))),
        ];

    public string Text(Func<string, string>? change = null)
    {
        var text = new StringBuilder("CGATS.17\n\nDESCRIPTOR \"simulated, no instrument\"\n");
        foreach (var keyword in new[] { Geometry, Norm, Thickness }.Where(line => line.Length > 0))
            text.Append(keyword).Append('\n');
        var nm = Enumerable.Range(0, (LastNm - FirstNm) / StepNm + 1).Select(i => FirstNm + i * StepNm).ToArray();
        text.Append("BEGIN_DATA_FORMAT\nSAMPLE_ID\tSAMPLE_NAME\t").AppendJoin('\t', nm.Select(n => $"{Prefix}{n}"));
        text.Append("\nEND_DATA_FORMAT\nBEGIN_DATA\n");
        var id = 1;
        foreach (var (name, reflectance) in Rows)
        {
            text.Append(CultureInfo.InvariantCulture, $"{id++}\t\"{name}\"\t");
            text.AppendJoin(
                '\t',
                nm.Select(n =>
                    (Percent * reflectance[(n - 380) / 10]).ToString("0.000000", CultureInfo.InvariantCulture)
                )
            );
            text.Append('\n');
        }
        text.Append("END_DATA\n");
        return change is null ? text.ToString() : change(text.ToString());
    }

    public InkDefinition Definition(string id = "shop-ink", Func<string, string>? change = null) =>
        new(id, "Shop ink", Ink.Kind, Ink.Role) { Measurement = new("card.txt", Text(change)) };

    private Spectrum Card(Spectrum k, Spectrum s, double um, double ground)
    {
        // The bare card is what the instrument reads on it.
        var seen = Ink.Convention with
        {
            Ki = Ki,
        };
        var inside = Saunderson.Internal(ground, seen);
        return Spectrum.Combine(
            k,
            s,
            (ki, si) => Saunderson.Measured(KubelkaMunk.Layer(ki, si, um).Over(inside), seen)
        );
    }

    private Spectrum Tint(double percent)
    {
        var white = InkLibrary.BaseWhite(Ink.Kind);
        var (own, rest) = (percent / Ink.DensityGramsPerCm3, (100 - percent) / white.DensityGramsPerCm3);
        var share = own / (own + rest);
        Spectrum Mixed(Spectrum a, Spectrum b) =>
            Spectrum.Combine(a, b, (x, y) => share * x + (1 - share) * WhiteStrength * y);
        return Card(
            Mixed(Ink.AbsorptionPerUm, white.AbsorptionPerUm),
            Mixed(Ink.ScatteringPerUm, white.ScatteringPerUm),
            2000,
            0.85
        );
    }
}
