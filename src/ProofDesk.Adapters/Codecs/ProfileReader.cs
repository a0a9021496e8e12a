using System.Buffers.Binary;
using System.Text;
using NetVips;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>Brings colour to sRGB code values, 16 bits: by the embedded profile, or by what is usual without one.</summary>
internal static class ProfileReader
{
    private const string Field = "icc-profile-data";

    /// <param name="profile">Description of the profile that was used, or null when a usual one was assumed.</param>
    public static Image ToSrgb(
        Image colour,
        string model,
        DecodeLimits limits,
        List<Finding> findings,
        out string? profile
    )
    {
        profile = null;
        var embedded = colour.Contains(Field) ? (byte[])colour.Get(Field) : null;
        if (embedded is not null)
        {
            if (embedded.Length > limits.MaxProfileBytes)
                throw new UnreadableArt(
                    "profile-too-large",
                    $"the embedded colour profile has {embedded.Length} bytes; {limits.MaxProfileBytes} are the limit",
                    "convert the art to sRGB and save it without a custom profile",
                    embedded.Length,
                    limits.MaxProfileBytes
                );
            if (Fits(embedded, model) && Transform(colour) is { } transformed)
            {
                profile = Description(embedded) ?? "unnamed profile";
                return transformed;
            }
            findings.Add(
                new(
                    "profile-unusable",
                    FindingWeight.Warning,
                    $"the embedded colour profile cannot be used for a {model} picture; {Assumed(model)} was assumed",
                    "check the colours in the proof, or save the art with a working profile"
                )
            );
        }
        using var bare = colour.Mutate(m => m.Remove(Field));
        if (model != "cmyk")
            return Widen(bare, model);
        if (embedded is null)
            findings.Add(
                new(
                    "cmyk-without-profile",
                    FindingWeight.Warning,
                    $"the cmyk art has no colour profile; {Assumed(model)} was assumed",
                    "check the colours in the proof, or save the art with its profile embedded"
                )
            );
        return bare.IccTransform(
            "srgb",
            inputProfile: "cmyk",
            intent: Enums.Intent.Relative,
            blackPointCompensation: true,
            depth: 16
        );
    }

    private static string Assumed(string model) =>
        model switch
        {
            "cmyk" => "a usual offset press",
            "grey" => "the sRGB tone curve",
            _ => "sRGB",
        };

    /// <summary>Widens code values to 16 bits and grey to three equal channels.</summary>
    private static Image Widen(Image bare, string model)
    {
        using var wide =
            bare.Format == Enums.BandFormat.Ushort ? bare.Copy() : (bare * 257).Cast(Enums.BandFormat.Ushort);
        return model == "grey" ? wide.Bandjoin(wide, wide) : wide.Copy();
    }

    private static Image? Transform(Image colour)
    {
        try
        {
            using var transformed = colour.IccTransform(
                "srgb",
                embedded: true,
                intent: Enums.Intent.Relative,
                blackPointCompensation: true,
                depth: 16
            );
            return transformed.CopyMemory();
        }
        catch (VipsException)
        {
            return null;
        }
    }

    /// <summary>ICC.1:2022 table 17: size at 0, colour space at 16, signature at 36.</summary>
    private static bool Fits(byte[] icc, string model) =>
        icc.Length >= 132
        && BinaryPrimitives.ReadUInt32BigEndian(icc) == icc.Length
        && icc.AsSpan(36, 4).SequenceEqual("acsp"u8)
        && icc.AsSpan(16, 4)
            .SequenceEqual(
                model switch
                {
                    "grey" => "GRAY"u8,
                    "cmyk" => "CMYK"u8,
                    _ => "RGB "u8,
                }
            );

    /// <summary>The 'desc' tag: textDescriptionType of version 2 or multiLocalizedUnicodeType of version 4.</summary>
    private static string? Description(ReadOnlySpan<byte> icc)
    {
        var count = BinaryPrimitives.ReadUInt32BigEndian(icc[128..]);
        for (var i = 0; i < Math.Min(count, 100) && 144 + 12 * i <= icc.Length; i++)
        {
            var tag = icc.Slice(132 + 12 * i, 12);
            var (at, size) = (
                BinaryPrimitives.ReadUInt32BigEndian(tag[4..]),
                BinaryPrimitives.ReadUInt32BigEndian(tag[8..])
            );
            if (!tag[..4].SequenceEqual("desc"u8) || at > icc.Length || size > icc.Length - at || size < 28)
                continue;
            return Text(icc.Slice((int)at, (int)size));
        }
        return null;
    }

    private static string? Text(ReadOnlySpan<byte> data)
    {
        string text;
        if (data.StartsWith("desc"u8))
        {
            var length = BinaryPrimitives.ReadUInt32BigEndian(data[8..]);
            text = length > data.Length - 12 ? "" : Encoding.Latin1.GetString(data.Slice(12, (int)length));
        }
        else if (data.StartsWith("mluc"u8))
        {
            var (length, at) = (
                BinaryPrimitives.ReadUInt32BigEndian(data[20..]),
                BinaryPrimitives.ReadUInt32BigEndian(data[24..])
            );
            text =
                at > data.Length || length > data.Length - at
                    ? ""
                    : Encoding.BigEndianUnicode.GetString(data.Slice((int)at, (int)length));
        }
        else
            return null;
        var plain = new string([
            .. text.Where(c =>
                !char.IsControl(c) && char.GetUnicodeCategory(c) != System.Globalization.UnicodeCategory.Format
            ),
        ]).Trim();
        return plain.Length == 0 ? null : plain[..Math.Min(plain.Length, 80)];
    }
}
