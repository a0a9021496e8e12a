using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Tests.Artworks;

public sealed class CutOutTests
{
    /// <summary>A disc with soft colours, cut out with an antialiased edge; the mix says what stands in the edge.</summary>
    private static RgbaRaster Disc(Func<double, double, (double Code, double Alpha)> edge)
    {
        var art = new RgbaRaster(400, 400);
        for (var y = 0; y < 400; y++)
        for (var x = 0; x < 400; x++)
        {
            var inside = 180 - Math.Sqrt(Math.Pow(x - 199.5, 2) + Math.Pow(y - 199.5, 2));
            var own = 0.45 + 0.2 * Math.Sin(x / 23.0) * Math.Cos(y / 31.0);
            var (code, alpha) = edge(inside, own);
            for (var c = 0; c < 3; c++)
                art.Pixels[4 * (400 * y + x) + c] = (ushort)(65535 * Srgb.Decode(Math.Clamp(code, 0, 1)));
            art.Pixels[4 * (400 * y + x) + 3] = (ushort)(65535 * Math.Clamp(alpha, 0, 1));
        }
        return art;
    }

    [Fact]
    public void A_clean_cut_out_has_no_fringe() =>
        Assert.Null(CutOutFringe.Of(Disc((inside, own) => (own, inside + 0.5))));

    [Fact]
    public void The_rest_of_a_white_background_is_a_pale_fringe()
    {
        // Cut two pixels outside an edge four pixels soft.
        var found = CutOutFringe.Of(
            Disc((inside, own) => (own + (1 - own) * Math.Clamp(1 - inside / 4, 0, 1), inside + 0.5))
        );

        Assert.Equal("fringe", found!.Code);
        Assert.Matches(
            "^the cut-out has a pale fringe: along (9[0-9]|100) % of its edge the outermost pixels are paler than the art 6 px further in, the rest of a white background; on dark cloth it prints as a pale line$",
            found.Message
        );
        Assert.Equal(
            "cut it out again with the edge moved in by 1 to 3 px, or export it with straight (not premultiplied) transparency",
            found.NextStep
        );
    }

    [Fact]
    public void Colours_multiplied_by_their_transparency_are_a_dark_fringe()
    {
        var found = CutOutFringe.Of(
            Disc(
                (inside, own) =>
                {
                    var alpha = Math.Clamp(inside / 4, 0, 1);
                    return (own * alpha, alpha);
                }
            )
        );

        Assert.Matches(
            "^the cut-out has a dark fringe: along [0-9]+ % of its edge the outermost pixels are darker than the art 6 px further in, ",
            found!.Message
        );
    }

    [Fact]
    public void Scattered_dots_of_a_few_colours_are_seen()
    {
        var art = new RgbaRaster(300, 200);
        for (var i = 0; i < 300 * 200; i++)
        {
            var tone = i % 300 / 300.0;
            var white = SeededNoise.Normal(1, i) * 0.3 + tone > 0.5;
            art.Pixels.AsSpan(4 * i, 3).Fill((ushort)(white ? 65535 : 2000));
            art.Pixels[4 * i + 3] = 65535;
        }

        var found = Dithering.Of(art, new());

        Assert.Matches(
            "^the art was brought down to 2 colours with scattered dots: [0-9.]+ % of its pixels are unlike all their neighbours; its dots and those of the screen beat with each other$",
            found!.Message
        );
        Assert.Equal("supply the picture as it was before its colours were reduced", found.NextStep);
    }

    [Fact]
    public void A_flat_drawing_is_not_dithered()
    {
        var art = new RgbaRaster(300, 200);
        for (var i = 0; i < 300 * 200; i++)
            art.Pixels.AsSpan(4 * i, 4).Fill((ushort)(i / 40 % 2 == 0 ? 65535 : 30000));

        Assert.Null(Dithering.Of(art, new()));
    }
}
