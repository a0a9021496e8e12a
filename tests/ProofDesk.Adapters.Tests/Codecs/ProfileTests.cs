using System.Globalization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>
/// Colour through profiles, judged by lcms (transicc) at dE00 &lt;= 1 (portal U3). The profiles are Ghostscript's.
/// </summary>
public sealed class ProfileTests : IDisposable
{
    private const string Profiles = "/usr/share/color/icc/ghostscript/";
    private const string Cmyk = Profiles + "default_cmyk.icc";
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-codecs-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private static double[] Lcms(string profile, string values)
    {
        var input = Path.GetTempFileName();
        try
        {
            File.WriteAllText(input, values + "\n");
            var text = Programs.Run("sh", "-c", $"transicc -n -t1 -b -i {profile} '-o*Lab' < {input}");
            var last = text.Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Last(l => l.Trim().Length > 0 && (char.IsDigit(l.Trim()[0]) || l.Trim()[0] == '-'));
            return
            [
                .. last.Split(' ', StringSplitOptions.RemoveEmptyEntries)
                    .Take(3)
                    .Select(v => double.Parse(v, CultureInfo.InvariantCulture)),
            ];
        }
        finally
        {
            File.Delete(input);
        }
    }

    private static void SameColour(double[] lab, Artwork art)
    {
        var p = art.Pixel(art.Pixels.Width / 2, art.Pixels.Height / 2);
        var ours = Srgb.ToLab(new(p[0], p[1], p[2]));
        var difference = Ciede2000.Difference(new(lab[0], lab[1], lab[2]), ours);
        Assert.True(difference <= 1, $"lcms {string.Join(' ', lab)}, ours {ours}, dE00 {difference:0.00}");
    }

    private string Picture(string name, string colour, params string[] options)
    {
        Skip.IfNot(File.Exists(Cmyk), "ghostscript's profiles are not installed");
        var path = Path.Combine(_folder, name);
        Programs.Run("convert", ["-size", "32x32", $"xc:{colour}", "-depth", "8", .. options, path]);
        return path;
    }

    [SkippableTheory]
    [InlineData("c.tif")]
    [InlineData("c.jpg")]
    public async Task Cmyk_with_a_profile_is_what_lcms_says(string name)
    {
        // 20 % C, 80 % M, 60 % Y, 10 % K. ImageMagick writes the JPEG with the inverted values of Adobe's marker.
        var path = Picture(name, "cmyk(51,204,153,26)", "-quality", "100", "-profile", Cmyk);

        var art = await Read(path);

        Assert.Equal("cmyk", art.Source.ColourModel);
        Assert.NotNull(art.Source.Profile);
        Assert.Empty(art.Findings);
        SameColour(Lcms(Cmyk, "20\n80\n60\n10.2"), art);
    }

    [SkippableFact]
    public async Task Cmyk_without_a_profile_is_read_as_offset_and_said()
    {
        var path = Picture("bare.jpg", "cmyk(0,255,255,0)", "-quality", "100", "+profile", "*");

        var art = await Read(path);

        var finding = Assert.Single(art.Findings);
        Assert.Equal("cmyk-without-profile", finding.Code);
        Assert.Equal("the cmyk art has no colour profile; a usual offset press was assumed", finding.Message);
        Assert.Equal("check the colours in the proof, or save the art with its profile embedded", finding.NextStep);
        // Offset red, magenta over yellow: ISO 12647-2 gives about L* 47, a* 68, b* 48.
        var p = art.Pixel(16, 16);
        var lab = Srgb.ToLab(new(p[0], p[1], p[2]));
        Assert.InRange(lab.L, 40, 56);
        Assert.InRange(lab.A, 55, 80);
        Assert.InRange(lab.B, 35, 65);
    }

    [SkippableTheory]
    [InlineData("wide.png")]
    [InlineData("wide.jpg")]
    [InlineData("wide.tif")]
    public async Task Rgb_of_another_space_is_what_lcms_says(string name)
    {
        var path = Picture(name, "rgb(120,140,90)", "-quality", "100", "-profile", Profiles + "a98.icc");

        var art = await Read(path);

        Assert.Empty(art.Findings);
        SameColour(Lcms(Profiles + "a98.icc", "120\n140\n90"), art);
    }

    // F7: proofs are sRGB, so wide gamuts come in and do not go out; the profiles are those of Debian's argyll-ref.
    [SkippableTheory]
    [InlineData("DisplayP3.icm")]
    [InlineData("Rec2020.icm")]
    [InlineData("ProPhoto.icm")]
    public async Task Art_of_a_wide_gamut_display_is_what_lcms_says(string profile)
    {
        var path = "/usr/share/color/argyll/ref/" + profile;
        Skip.IfNot(File.Exists(path), $"{profile} is not installed (Debian: argyll-ref)");
        // Inside sRGB in every one of them.
        var art = await Read(Picture("wide.png", "rgb(120,135,100)", "-profile", path));

        Assert.Empty(art.Findings);
        SameColour(Lcms(path, "120\n135\n100"), art);
    }

    // F3, and H9 in passing: a profile that an independent program fits to measured offset prints (14 s of one core) reads
    // for us as for lcms.
    [SkippableFact]
    public async Task Cmyk_with_a_profile_fitted_to_measured_prints_is_what_lcms_says()
    {
        const string data = "/usr/share/color/icc/FOGRA39L.ti3";
        Skip.If(Environment.GetEnvironmentVariable("PROOFDESK_LONG") != "1", "fitting takes 14 s: PROOFDESK_LONG=1");
        Skip.IfNot(File.Exists(data), "FOGRA39L.ti3 is not installed (Debian: icc-profiles-free)");
        File.Copy(data, Path.Combine(_folder, "f.ti3"));
        var said = Programs.Run("colprof", "-v", "-qm", "-bl", Path.Combine(_folder, "f"));
        Assert.Matches(@"peak err = 0\.7\d+, avg err = 0\.1[56]", said);
        var profile = Path.Combine(_folder, "f.icc");

        var magenta = await Read(Picture("m.tif", "cmyk(0,178.5,0,0)", "-profile", profile));
        var red = await Read(Picture("r.tif", "cmyk(0,255,255,0)", "-profile", profile));

        SameColour(Lcms(profile, "0\n70\n0\n0"), magenta);
        SameColour(Lcms(profile, "0\n100\n100\n0"), red);
    }

    [Fact]
    public async Task A_profile_that_is_not_one_is_not_used()
    {
        byte[] profile = [.. "junk\0\0"u8, .. BrokenFiles.Deflated(new byte[200])];

        var art = await Read(BrokenFiles.Png(4, 4, 8, 2, ("iCCP", profile)));

        Assert.Null(art.Source.Profile);
        Assert.Equal(4, art.Pixels.Width);
    }

    [SkippableFact]
    public async Task A_profile_of_another_colour_model_is_not_used()
    {
        var path = Picture("wrong.tif", "rgb(200,80,30)");
        Skip.IfNot(File.Exists("/usr/bin/vips"), "vips is not installed");
        var wrong = Path.Combine(_folder, "wrong2.tif");
        Programs.Run("vips", "tiffsave", path, wrong, "--profile", Cmyk);

        var art = await Read(wrong);

        var finding = Assert.Single(art.Findings);
        Assert.Equal("the embedded colour profile cannot be used for a rgb picture; sRGB was assumed", finding.Message);
        Assert.Equal(Light(200), art.Pixel(4, 4)[0], 1e-4);
    }
}
