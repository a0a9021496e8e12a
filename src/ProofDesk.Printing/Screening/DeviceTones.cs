using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// What a device makes of tones: measured on its own 11-step wedge. Plates are written with the opposite, so that film or
/// screen carries what was meant; the print is computed from what was meant.
/// </summary>
/// <param name="MeasuredPercent">What comes out where 0, 10, .. 100 % are asked: 11 numbers that rise from 0 to 100.</param>
public sealed record DeviceTones(ImmutableArray<double> MeasuredPercent)
{
    public const int Steps = 11;

    /// <summary>What is wrong with the numbers, or null.</summary>
    public static string? Problem(IReadOnlyList<double> measured)
    {
        if (measured.Count != Steps)
            return $"{measured.Count} numbers are given; a wedge has {Steps} steps";
        if (measured[0] != 0 || measured[^1] != 100)
            return FormattableString.Invariant(
                $"it runs from {measured[0]:0.#} to {measured[^1]:0.#} %; it must run from 0 to 100"
            );
        for (var i = 1; i < Steps; i++)
            if (!(measured[i] - measured[i - 1] >= 1))
                return FormattableString.Invariant(
                    $"the step at {10 * i} % measures {measured[i]:0.#} %, the one before {measured[i - 1]:0.#}: each must be darker by 1 % or more"
                );
        return null;
    }

    /// <summary>The tone to ask for so that this one comes out; nothing and solid stay.</summary>
    public byte Asked(byte wanted)
    {
        if (wanted is 0 or 255)
            return wanted;
        var percent = 100.0 * wanted / 255;
        var step = 1;
        while (step < Steps - 1 && MeasuredPercent[step] < percent)
            step++;
        var (below, above) = (MeasuredPercent[step - 1], MeasuredPercent[step]);
        var asked = 10 * (step - 1 + (percent - below) / (above - below));
        return (byte)Math.Clamp(Math.Round(asked * 2.55, MidpointRounding.AwayFromZero), 1, 254);
    }

    /// <summary>The plate's film tones as they are asked for.</summary>
    internal BytePlane Asked(BytePlane tones)
    {
        var table = Enumerable.Range(0, 256).Select(t => Asked((byte)t)).ToArray();
        return new(tones.Width, tones.Height, Array.ConvertAll(tones.Pixels, t => table[t]));
    }

    public bool Equals(DeviceTones? other) =>
        other is not null && MeasuredPercent.AsSpan().SequenceEqual(other.MeasuredPercent.AsSpan());

    public override int GetHashCode()
    {
        var hash = new HashCode();
        foreach (var value in MeasuredPercent)
            hash.Add(value);
        return hash.ToHashCode();
    }
}
