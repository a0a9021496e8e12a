using System.Diagnostics;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Proofs;

/// <summary>Small makers: a plate from a function of its pixels, films of it, and the independent programs that judge them.</summary>
internal static class SmallPlates
{
    public const double PixelsPerMm = 4;

    public static Plate Plate(string name, int width, int height, Func<int, int, byte> tone)
    {
        var plane = new BytePlane(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            plane[x, y] = tone(x, y);
        var ink = InkLibrary.Find("red")!;
        return new(
            name,
            PlatePurpose.Spot,
            ink,
            new(61, 64),
            new(35, 22.5, DotShape.Round),
            plane,
            null,
            plane,
            1,
            false
        );
    }

    public static Films Films(OutputDevice device, params Plate[] plates)
    {
        var (width, height) = (plates[0].Tone.Width / PixelsPerMm, plates[0].Tone.Height / PixelsPerMm);
        return FilmMaker.Screen(new([.. plates], [], [], width, height, PixelsPerMm, []), device);
    }

    public static BitPlane Rows(Action<int, BitPlane> read, int width, int height)
    {
        var plane = new BitPlane(width, height);
        read(0, plane);
        return plane;
    }

    public static string Run(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        Process? process = null;
        try
        {
            process = Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Skip.If(true, $"{program} is not installed");
        }
        using (process!)
        {
            var error = process!.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0
                ? output + error.Result
                : throw new InvalidOperationException($"{program} ended with {process.ExitCode}: {error.Result}");
        }
    }
}
