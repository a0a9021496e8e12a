using System.Globalization;
using System.Text;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Tests.Screening;

public sealed class GhostscriptTests
{
    /// <summary>
    /// physics H14: 1440 dpi, 55 lpi, 22.5 degrees; white fraction .9009 .7500 .5000 .1997 for greys .9 .75 .5 .2, +-.003.
    /// Ghostscript makes its dots anew in this test with the same spot function (HalftoneType 1).
    /// </summary>
    [SkippableTheory]
    [InlineData(0.9, 0.9009)]
    [InlineData(0.75, 0.7500)]
    [InlineData(0.5, 0.5000)]
    [InlineData(0.2, 0.1997)]
    public void Our_dots_are_as_white_as_Ghostscripts(double grey, double published)
    {
        using var folder = new OutsidePrograms.Folder();
        File.WriteAllText(
            folder["patch.ps"],
            string.Create(
                CultureInfo.InvariantCulture,
                $$"""
                %!PS
                << /HalftoneType 1 /Frequency 55 /Angle 22.5
                   /SpotFunction { dup mul exch dup mul add 1 exch sub } /AccurateScreens true >> sethalftone
                {{grey}} setgray 0 0 144 144 rectfill showpage
                """
            )
        );
        OutsidePrograms.Run(
            "gs",
            "-q",
            "-dNOPAUSE",
            "-dBATCH",
            "-dSAFER",
            "-sDEVICE=pbmraw",
            "-r1440",
            "-g2880x2880",
            "-o",
            folder["patch.pbm"],
            folder["patch.ps"]
        );
        var theirs = 1 - InkOfPbm(File.ReadAllBytes(folder["patch.pbm"]));

        var array = ThresholdArray.For(new(55, 22.5, DotShape.Round), 1440, 1440);
        var tone = new BytePlane(1, 1, [(byte)Math.Round(255 * (1 - grey))]);
        var film = new BitPlane(2880, 2880);
        new HalftoneRows(tone, null, array.Tile, 2880, 2880).Read(0, film);
        var ours = 1 - BitRows.CountInk(film) / (2880.0 * 2880);

        Assert.Equal(published, theirs, 0.001);
        Assert.Equal(published, ours, 0.003);
        Assert.Equal(theirs, ours, 0.003);
    }

    /// <summary>Share of black in a raw portable bitmap, width a multiple of 8.</summary>
    private static double InkOfPbm(byte[] file)
    {
        var header = Encoding.ASCII.GetString(file, 0, 256).Split('\n').Where(l => !l.StartsWith('#')).ToArray();
        Assert.Equal("P4", header[0]);
        Assert.Equal("2880 2880", header[1]);
        var bits = file.AsSpan(file.Length - 2880 * 360);
        long ink = 0;
        foreach (var b in bits)
            ink += byte.PopCount(b);
        return ink / (2880.0 * 2880);
    }
}
