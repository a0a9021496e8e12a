using System.Buffers;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Adapters.Garments;

/// <summary>Reads the photograph of a view: which file, and what was drawn on it. Points are pixels from the top left corner.</summary>
internal static class PhotographFields
{
    private const int MostCorners = 400;
    private static readonly SearchValues<char> NameLetters = SearchValues.Create(
        "abcdefghijklmnopqrstuvwxyz0123456789.-"
    );
    private static readonly SearchValues<char> HexDigits = SearchValues.Create("0123456789abcdef");

    public static GarmentPhotograph Photograph(Field f)
    {
        var name = f["file"].Text();
        if (name.AsSpan().ContainsAnyExcept(NameLetters) || name.StartsWith('.'))
            throw new GarmentFormatException(
                f["file"].Path,
                $"\"{name}\" is no name of a file beside this one; small letters, digits, points and hyphens make one"
            );
        var sha256 = f["sha256"].Text();
        if (sha256.Length != 64 || sha256.AsSpan().ContainsAnyExcept(HexDigits))
            throw new GarmentFormatException(f["sha256"].Path, "64 hexadecimal digits in small letters are needed");
        var (width, height) = (Side(f["width"]), Side(f["height"]));
        var area = f["area"].AtLeastOne(p => Point(p, width, height));
        if (area.Length is < 3 or > MostCorners)
            throw new GarmentFormatException(
                f["area"].Path,
                $"has {area.Length} corners, 3 to {MostCorners} are needed"
            );
        var marks = new PhotoMarks(
            Tape(f["tape"], width, height),
            f.Has("check") ? Tape(f["check"], width, height) : null,
            Point(f["seam"], width, height),
            Point(f["down"], width, height),
            area,
            f.Has("tolerance") ? f["tolerance"].Number(1, 100) : null
        );
        if (marks.Seam.To(marks.Down) < 1)
            throw new GarmentFormatException(f["down"].Path, "is the seam itself; a point further down is needed");
        return new(name, sha256, width, height, marks);
    }

    private static int Side(Field f) => (int)f.Number(1, GarmentPhotograph.MostSide);

    private static PhotoTape Tape(Field f, int width, int height)
    {
        var tape = new PhotoTape(
            Point(f["from"], width, height),
            Point(f["to"], width, height),
            f["mm"].Number(20, 3000)
        );
        return tape.Pixels >= 1
            ? tape
            : throw new GarmentFormatException(f["to"].Path, "is where the tape starts; another point is needed");
    }

    private static PhotoPoint Point(Field f, int width, int height)
    {
        var items = f.Items().ToArray();
        return items.Length == 2
            ? new(items[0].Number(0, width), items[1].Number(0, height))
            : throw new GarmentFormatException(f.Path, $"a point takes two numbers, {items.Length} given");
    }
}
