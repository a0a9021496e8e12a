using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Adapters.Codecs;

/// <summary>A small picture of a whole film sheet.</summary>
/// <param name="Name">"film-01-white.png".</param>
public sealed record FilmView(string Name, byte[] Png);

/// <summary>Films to look at: each sheet small, with its marks and label, and all of a print on one picture.</summary>
public sealed record FilmViews(ImmutableArray<FilmView> Films, byte[] Together)
{
    private const int FilmPixels = 640;
    private const int TogetherPixels = 320;

    public static FilmViews Of(Proof proof, FilmSetName name, CancellationToken cancel)
    {
        var films = proof.Films;
        var pictures = new BytePlane[films.Plates.Length];
        var views = new FilmView[films.Plates.Length];
        Parallel.For(
            0,
            views.Length,
            new() { CancellationToken = cancel },
            i =>
            {
                BytePlane picture;
                double sheetMm;
                if (films.Device.HandOver == HandOver.DotsTheirs)
                {
                    var tones = PlateFiles.ToneSheetOf(films, i, proof.Measures[i], name);
                    picture = FilmOverview.Of(tones.Tones, FilmPixels);
                    sheetMm = tones.Tones.Width / films.Separation.PixelsPerMm;
                }
                else
                {
                    var sheet = PlateFiles.Sheet(films, i, proof.Measures[i], name);
                    picture = FilmOverview.Of(sheet, FilmPixels, cancel);
                    sheetMm = sheet.Width / sheet.Device.XDpi * 25.4;
                }
                views[i] = new(FileName(proof, i), PictureWriter.Png(picture, picture.Width / sheetMm));
                pictures[i] = Resample.Shrink(
                    picture,
                    Math.Min(picture.Width, TogetherPixels),
                    Math.Max(1, picture.Height * Math.Min(picture.Width, TogetherPixels) / picture.Width)
                );
            }
        );
        return new([.. views], PictureWriter.Png(FilmOverview.Together(pictures), 1));
    }

    /// <summary>"film-01-white.png".</summary>
    public static string FileName(Proof proof, int index) =>
        $"film-{Path.GetFileNameWithoutExtension(PlateFiles.FileName(index, proof.Films.Plates[index].Plate.Name))}.png";
}
