using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Tests.Separations.Layers;

/// <summary>Art in layers, drawn by code: the picture is the layers painted over each other in their colours.</summary>
internal sealed class LayeredTestArt(int width, int height)
{
    private readonly List<ArtLayer> _layers = [];
    private readonly TestArt _picture = new(width, height);

    /// <summary>A layer of rectangles, given as left, top, right, bottom.</summary>
    public LayeredTestArt Boxes(string name, string? hex, params (double, double, double, double)[] boxes)
    {
        var plane = new BytePlane(width, height);
        foreach (var (left, top, right, bottom) in boxes)
            PolygonFill.Fill(
                plane,
                [
                    [(left, top), (right, top), (right, bottom), (left, bottom)],
                ]
            );
        return Add(name, hex, plane);
    }

    public LayeredTestArt Disc(string name, string? hex, double x, double y, double radius)
    {
        var plane = new BytePlane(width, height);
        PolygonFill.Fill(
            plane,
            [
                [
                    .. Enumerable
                        .Range(0, 180)
                        .Select(i =>
                            (x + radius * Math.Cos(i * Math.PI / 90), y + radius * Math.Sin(i * Math.PI / 90))
                        ),
                ],
            ]
        );
        return Add(name, hex, plane);
    }

    /// <summary>A layer whose coverage, 0..1, is a function of the place.</summary>
    public LayeredTestArt Tone(string name, string? hex, Func<int, int, double> tone)
    {
        var plane = new BytePlane(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            plane[x, y] = (byte)Math.Round(255 * Math.Clamp(tone(x, y), 0, 1));
        return Add(name, hex, plane);
    }

    public LayeredTestArt Add(string name, string? hex, BytePlane plane)
    {
        _layers.Add(new(name, hex, plane));
        _picture.Paint((x, y) => (hex ?? LayerNames.DrawnIn(name), plane[x, y] / 255.0));
        return this;
    }

    public Artwork Artwork() => _picture.Artwork() with { Layers = [.. _layers] };

    public SizedArt Sized(double widthMm) => ArtSizing.Size(Artwork(), widthMm, BackgroundChoice.Print);
}
