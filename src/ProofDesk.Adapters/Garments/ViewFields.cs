using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Garments;

/// <summary>Reads the drawing of a garment: views with pieces, seams, folds and obstacles, and the places of prints.</summary>
internal static class ViewFields
{
    public static GarmentShape Shape(Field root, ImmutableArray<GarmentSize> sizes)
    {
        var views = root["views"].AtLeastOne(v => View(v, sizes));
        root["views"].NoneTwice(views.Select(v => v.Side));
        var places = root["places"].AtLeastOne(p => Anchor(p, views, sizes));
        root["places"].NoneTwice(places.Select(p => p.Place.Id()));
        return new(views, places);
    }

    private static GarmentView View(Field f, ImmutableArray<GarmentSize> sizes)
    {
        var view = new GarmentView(
            f["side"].OneOf<GarmentSide>(),
            f["pieces"].AtLeastOne(p => Piece(p, sizes)),
            [
                .. f["seams"]
                    .Items()
                    .Select(s => new GarmentSeam(s["name"].Text(), (int)s["stitches"].Number(0, 2), s["line"].Path_())),
            ],
            [
                .. f["folds"]
                    .Items()
                    .Select(s => new GarmentFold(
                        s["heightMm"].Number(0, 50),
                        s["widthMm"].Number(1, 200),
                        s["line"].Path_()
                    )),
            ]
        )
        {
            Obstacles = f.Has("obstacles") ? [.. f["obstacles"].Items().Select(o => Obstacle(o, sizes))] : [],
            Photograph = f.Has("photograph") ? PhotographFields.Photograph(f["photograph"]) : null,
        };
        if (f.Has("obstacles"))
            f["obstacles"].NoneTwice(view.Obstacles.Select(o => o.Name));
        return view;
    }

    private static GarmentPiece Piece(Field f, ImmutableArray<GarmentSize> sizes)
    {
        var kind = f["kind"].OneOf<PieceKind>();
        return new(f["name"].Text(), kind, f["puffMm"].Number(0, 200), f["outline"].Outline(sizes))
        {
            OnTop = f.Has("onTop") ? f["onTop"].Flag() : kind is PieceKind.Zip or PieceKind.Cord or PieceKind.Metal,
            RibDegrees = f.Has("ribDegrees") ? f["ribDegrees"].Number(-180, 180) : null,
        };
    }

    private static GarmentObstacle Obstacle(Field f, ImmutableArray<GarmentSize> sizes) =>
        new(f["name"].Text(), f["kind"].OneOf<ObstacleKind>(), f["outline"].Outline(sizes));

    private static PlaceAnchor Anchor(Field f, ImmutableArray<GarmentView> views, ImmutableArray<GarmentSize> sizes)
    {
        var place = f["place"].OneOf<Place>();
        var side = f["side"].OneOf<GarmentSide>();
        if (side != place.Side())
            throw new GarmentFormatException(
                f["side"].Path,
                $"{place.Id()} is on the {place.Side().ToString().ToLowerInvariant()}, \"{f["side"].Text()}\" given"
            );
        if (views.All(v => v.Side != side))
            throw new GarmentFormatException(f["side"].Path, $"there is no view of the {f["side"].Text()}; draw it");
        return new(place, side, f["seam"].Point(), f["degrees"].Number(-180, 180), f["up"].Flag())
        {
            Usual = f.Has("usual")
                ? (f["usual"]["fromSeamMm"].Number(-500, 1000), f["usual"]["fromCentreMm"].Number(-500, 500))
                : null,
            Area = f.Has("area") ? Area(f["area"], sizes) : null,
        };
    }

    private static PrintArea Area(Field f, ImmutableArray<GarmentSize> sizes)
    {
        foreach (var side in new[] { "width", "height" })
        foreach (var size in sizes)
            if (f[side].Length().Of(size) is var mm && mm < 10)
                throw new GarmentFormatException(
                    f[side].Path,
                    FormattableString.Invariant($"is {mm:0.#} mm in size {size.Size}, at least 10 is needed")
                );
        return new(f["width"].Length(), f["height"].Length());
    }
}
