using System.Diagnostics;
using System.Globalization;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

/// <summary>A second judge: the colour engine lcms (Debian package liblcms2-utils), run in this very test.</summary>
public sealed class LcmsTests
{
    [SkippableFact]
    public void Lcms_agrees_on_the_Lab_of_a_grid_of_display_colours()
    {
        Skip.IfNot(File.Exists("/usr/bin/transicc"), "transicc of lcms is not installed (Debian: liblcms2-utils)");
        int[] levels = [0, 10, 60, 128, 200, 255];
        var colours = (from r in levels from g in levels from b in levels select (r, g, b)).ToArray();

        var answers = Transicc(string.Concat(colours.Select(c => $"{c.r} {c.g} {c.b}\n")));

        Assert.Equal(colours.Length, answers.Length);
        foreach (var ((r, g, b), expected) in colours.Zip(answers))
        {
            var lab = Srgb.ToLab(Srgb.Decode(r / 255.0, g / 255.0, b / 255.0));
            // 0.02: lcms rounds the primaries to 1/65536 and its profile white is 0.9642, 1, 0.8249.
            Assert.True(
                Math.Abs(lab.L - expected.L) < 0.02
                    && Math.Abs(lab.A - expected.A) < 0.02
                    && Math.Abs(lab.B - expected.B) < 0.02,
                $"{r} {g} {b}: ours {lab}, lcms {expected}"
            );
        }
    }

    private static Lab[] Transicc(string input)
    {
        using var process = Process.Start(
            new ProcessStartInfo("/usr/bin/transicc", "-i*sRGB -o*Lab -t3 -n")
            {
                UseShellExecute = false,
                RedirectStandardInput = true,
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            }
        )!;
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return
        [
            .. output
                .Split('\n')
                .Select(line =>
                    line.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries)
                        .Where(field => double.TryParse(field, CultureInfo.InvariantCulture, out _))
                        .Select(field => double.Parse(field, CultureInfo.InvariantCulture))
                        .ToArray()
                )
                .Where(numbers => numbers.Length == 3)
                .Select(n => new Lab(n[0], n[1], n[2])),
        ];
    }
}
