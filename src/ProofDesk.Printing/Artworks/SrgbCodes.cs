using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Artworks;

/// <summary>
/// From 16-bit linear light to 8-bit sRGB codes and back. Codes are even steps for the eye to within a factor of two
/// or so, good enough to say "same colour" and quick enough for every pixel.
/// </summary>
internal sealed class SrgbCodes
{
    private readonly byte[] _codes = new byte[65536];

    public SrgbCodes()
    {
        for (var i = 0; i < _codes.Length; i++)
            _codes[i] = (byte)Math.Round(255 * Srgb.Encode(i / 65535.0));
    }

    public byte this[ushort linear] => _codes[linear];

    /// <summary>Linear light, 0..65535, of a code (which need not be whole).</summary>
    public static ushort Linear(double code) => (ushort)Math.Round(65535 * Srgb.Decode(Math.Clamp(code, 0, 255) / 255));
}
