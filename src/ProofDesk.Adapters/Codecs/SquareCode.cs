using QRCoder;

namespace ProofDesk.Adapters.Codecs;

/// <summary>The machine-readable square on films and tickets (ISO/IEC 18004), as modules without the quiet zone.</summary>
public static class SquareCode
{
    /// <summary>Level M mends 15 % damage: films get scratched.</summary>
    public static bool[,] Of(string text)
    {
        using var data = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M, forceUtf8: true);
        const int Quiet = 4;
        var size = data.ModuleMatrix.Count - 2 * Quiet;
        var modules = new bool[size, size];
        for (var row = 0; row < size; row++)
        for (var column = 0; column < size; column++)
            modules[row, column] = data.ModuleMatrix[row + Quiet][column + Quiet];
        return modules;
    }
}
