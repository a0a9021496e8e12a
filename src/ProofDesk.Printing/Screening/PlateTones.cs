using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Screening;

/// <summary>How much of a plate's drawing has which film tone: counted art pixels by tone, 0 left out.</summary>
internal sealed class PlateTones
{
    private readonly long[] _counts = new long[256];

    private PlateTones() { }

    public static PlateTones Of(Plate plate)
    {
        var tones = new PlateTones();
        for (var y = 0; y < plate.Tone.Height; y++)
        {
            var tone = plate.Tone.Row(y);
            if (plate.Solid is { } solid)
            {
                // Lettering in painted art stands beside the tones, where they are cut out, and over them.
                var stands = solid.Row(y);
                for (var x = 0; x < tone.Length; x++)
                    tones._counts[
                        stands[x] >= 128 ? 255
                        : plate.Shape is { } outline && outline[x, y] < 128 ? 0
                        : tone[x]
                    ]++;
                continue;
            }
            if (plate.Shape is not { } shape)
            {
                foreach (var t in tone)
                    tones._counts[t]++;
                continue;
            }
            var within = shape.Row(y);
            for (var x = 0; x < tone.Length; x++)
                if (within[x] >= 128)
                    tones._counts[tone[x]]++;
        }
        tones._counts[0] = 0;
        return tones;
    }

    /// <summary>A plate of solids only never meets its screen: naming a ruling would mislead.</summary>
    public bool HasTones => _counts.AsSpan(1, 254).ContainsAnyExcept(0);

    /// <summary>Art pixels of ink, a tone counted by its share: what the dots of the film add up to.</summary>
    public double InkedPixels
    {
        get
        {
            var inked = 0.0;
            for (var t = 1; t < 256; t++)
                inked += _counts[t] * (t / 255.0);
            return inked;
        }
    }

    /// <summary>Share of the inked area that is lighter than a tone (0..1) and not blank.</summary>
    public double SharePercent(double below)
    {
        var (weak, all) = (0L, 0L);
        for (var t = 1; t < 256; t++)
        {
            all += _counts[t];
            if (t < 255 && t / 255.0 < below)
                weak += _counts[t];
        }
        return all == 0 ? 0 : 100.0 * weak / all;
    }
}
