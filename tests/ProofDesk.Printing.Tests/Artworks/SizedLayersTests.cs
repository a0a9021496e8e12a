using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Artworks;

public class SizedLayersTests
{
    /// <summary>Coverage of a rectangle of whole pixels.</summary>
    private static ArtLayer Layer(string name, int width, int height, int left, int top, int right, int bottom)
    {
        var plane = new BytePlane(width, height);
        for (var y = top; y < bottom; y++)
            plane.Row(y)[left..right].Fill(255);
        return new(name, "#c8102e", plane);
    }

    private static double Mean(BytePlane plane) => plane.Pixels.Average(p => (double)p) / 255;

    [Fact]
    public void Layers_are_cropped_with_the_picture()
    {
        var artwork = new TestArt(400, 300).Rectangle("#c8102e", 100, 50, 300, 150).Artwork() with
        {
            Layers = [Layer("Red", 400, 300, 100, 50, 300, 150), Layer("Dot", 400, 300, 110, 60, 120, 70)],
        };

        var art = ArtSizing.Size(artwork, 50, BackgroundChoice.Print);

        Assert.Equal(["Red", "Dot"], art.Layers.Select(l => l.Name));
        Assert.All(art.Layers, l => Assert.Equal((200, 100), (l.Coverage.Width, l.Coverage.Height)));
        Assert.All(art.Layers[0].Coverage.Pixels, p => Assert.Equal(255, p));
        Assert.Equal((0, 255, 255, 0), (At(9), At(10), At(19), At(20)));
        byte At(int i) => art.Layers[1].Coverage[i, i];
    }

    [Fact]
    public void Layers_are_shrunk_with_the_picture_and_keep_their_coverage()
    {
        // 3000 px on 50 mm are 1524 dpi; 600 stay.
        var artwork = TestArt.On(3000, 30, "#c8102e").Artwork() with
        {
            Layers = [Layer("Half", 3000, 30, 0, 0, 1499, 30)],
        };

        var art = ArtSizing.Size(artwork, 50, BackgroundChoice.Print);

        var plane = Assert.Single(art.Layers).Coverage;
        Assert.Equal((art.Pixels.Width, art.Pixels.Height), (plane.Width, plane.Height));
        Assert.Equal(1181, plane.Width);
        Assert.Equal(1499 / 3000.0, Mean(plane), 1e-4);
    }

    [Fact]
    public void A_dropped_background_leaves_the_layers_too_but_not_under_the_drawing()
    {
        var artwork = TestArt.On(200, 200, "#ffffff").Rectangle("#c8102e", 50, 50, 150, 150).Artwork() with
        {
            Layers = [Layer("Sheet", 200, 200, 0, 0, 200, 200), Layer("Red", 200, 200, 50, 50, 150, 150)],
        };

        var art = ArtSizing.Size(artwork, 50, BackgroundChoice.Drop);

        Assert.All(
            art.Layers,
            l => Assert.Equal((100, 100, 1.0), (l.Coverage.Width, l.Coverage.Height, Mean(l.Coverage)))
        );
        Assert.Equal(
            new Finding(
                "background-dropped-from-layers",
                FindingWeight.Note,
                "the background is dropped, so all 2 layers print only where the picture keeps something",
                "nothing, or hide the background in the drawing program and send that"
            ),
            Assert.Single(art.Findings, f => f.Code == "background-dropped-from-layers")
        );
    }

    [Fact]
    public void Art_without_layers_has_none_when_sized() =>
        Assert.Empty(TestArt.On(10, 10, "#c8102e").Sized(10).Layers);
}
