using System.Net;
using NetVips;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Documents;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Sheets;

/// <summary>A compare sheet as one picture. The proofs in it are averaged down in linear light and nothing else.</summary>
public sealed class SheetPng(IFileStore files)
{
    private const int Column = 420;
    private const int Gap = 24;
    private const int PictureHigh = 380;
    private const int TypeDpi = 96;

    private static readonly double[] Paper = [255];
    private static readonly double[] Surround = [119];

    public async Task<byte[]> DrawAsync(DrawnSheet sheet, CancellationToken cancel = default)
    {
        Vips.Prepare();
        var columns = Math.Max(2, sheet.Rows.Max(row => row.Tiles.Length));
        var wide = columns * Column + (columns - 1) * Gap;
        var parts = new List<Image> { Type(sheet.Title, 22, wide, isBold: true), Type(sheet.Words, 11, wide) };
        foreach (var row in sheet.Rows)
        {
            cancel.ThrowIfCancellationRequested();
            parts.Add(Type(row.Title, 15, wide, isBold: true));
            parts.Add(Type(row.Words, 10, wide));
            var tiles = new List<Image>();
            foreach (var tile in row.Tiles)
            {
                tiles.Add(await TileAsync(tile, cancel));
            }
            // Kept in memory row by row: a hundred pictures opened at once would all be decoded at once.
            parts.Add(Beside(tiles).CopyMemory());
        }
        parts.Add(Type(sheet.Foot, 10, wide));
        parts.Add(Type(sheet.Shop, 10, wide));
        using var whole = Below(parts, Gap / 2);
        using var framed = whole.Gravity(
            Enums.CompassDirection.Centre,
            wide + 2 * Gap,
            whole.Height + 2 * Gap,
            extend: Enums.Extend.Background,
            background: Paper
        );
        return framed.PngsaveBuffer(compression: 6, profile: "srgb", keep: Enums.ForeignKeep.Icc);
    }

    private async Task<Image> TileAsync(DrawnTile tile, CancellationToken cancel)
    {
        var parts = new List<Image>();
        if (tile.Sha256 is { } sha256)
        {
            var png = await files.ReadCheckedAsync(sha256, cancel);
            using var picture = Image.ThumbnailBuffer(
                png,
                Column - 2 * Gap,
                height: PictureHigh - 2 * Gap,
                size: Enums.Size.Down,
                linear: true
            );
            using var flat = picture.HasAlpha() ? picture.Flatten(background: Surround) : picture.Copy();
            parts.Add(
                flat.Gravity(
                        Enums.CompassDirection.Centre,
                        Column,
                        PictureHigh,
                        extend: Enums.Extend.Background,
                        background: Surround
                    )
                    .CopyMemory()
            );
        }
        parts.Add(Type(tile.Title, 12, Column, isBold: true));
        parts.AddRange(tile.Lines.Select(line => Type(line, 10, Column)));
        return Below(parts, 4);
    }

    // One line of text however long, broken at words; Pango reads markup, so nothing of the text may be any.
    private static Image Type(string text, int points, int width, bool isBold = false)
    {
        if (text.Length == 0)
        {
            return Blank(width, 1);
        }
        using var mask = Image.Text(
            WebUtility.HtmlEncode(text),
            font: $"{PdfFonts.Face} {(isBold ? "Semi-Bold " : "")}{points}",
            width: width,
            dpi: TypeDpi,
            fontfile: Path.Combine(PdfFonts.ShippedFolder, isBold ? "Inter-SemiBold.ttf" : "Inter-Regular.ttf"),
            wrap: Enums.TextWrap.WordChar
        );
        using var dark = mask.Invert();
        using var three = dark.Bandjoin(dark, dark);
        using var tagged = three.Copy(interpretation: Enums.Interpretation.Srgb);
        return tagged
            .Gravity(
                Enums.CompassDirection.NorthWest,
                width,
                tagged.Height + points / 3,
                extend: Enums.Extend.Background,
                background: Paper
            )
            .CopyMemory();
    }

    private static Image Blank(int width, int height) =>
        Image.Black(width, height, bands: 3).Invert().Copy(interpretation: Enums.Interpretation.Srgb);

    private static Image Below(List<Image> parts, int gap)
    {
        var stacked = parts[0];
        foreach (var part in parts.Skip(1))
        {
            stacked = stacked.Join(part, Enums.Direction.Vertical, expand: true, shim: gap, background: Paper);
        }
        return stacked;
    }

    private static Image Beside(List<Image> tiles)
    {
        var row = tiles[0];
        foreach (var tile in tiles.Skip(1))
        {
            row = row.Join(tile, Enums.Direction.Horizontal, expand: true, shim: Gap, background: Paper);
        }
        return row;
    }
}
