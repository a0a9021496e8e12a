using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Garments;

/// <summary>Reads one colour of a garment: fibres, cloth, dyes.</summary>
internal static class ColourFields
{
    public static GarmentColour Colour(Field f)
    {
        var fibres = f["fibres"].Members().Select(m => new FibreShare(Fibre(m), m.Number(0, 1))).ToImmutableArray();
        var sum = fibres.Sum(s => s.Share);
        if (Math.Abs(sum - 1) > 0.001)
            throw new GarmentFormatException(f["fibres"].Path, $"the shares add up to {sum:0.###}, 1 is needed");
        HeatherFleck? fleck = null;
        Spectrum reflectance;
        switch (f["cloth"].Text())
        {
            case "undyed":
                reflectance = ClothSpectra.Undyed(fibres);
                break;
            case "lab":
                reflectance = Dyed(f["lab"]);
                break;
            case "heather":
                fleck = Fleck(f, fibres);
                reflectance = ClothSpectra.Heather(fleck.PaleFibre, fleck.DarkFibre, fleck.DarkShare);
                break;
            case var other:
                throw new GarmentFormatException(
                    f["cloth"].Path,
                    $"\"{other}\" is not known; one of undyed, lab, heather is needed"
                );
        }
        return new GarmentColour(
            f["id"].Text(),
            f["name"].Text(),
            reflectance,
            fibres,
            f.Has("brightenerPeak") ? f["brightenerPeak"].Number(0, 1) : 0,
            fleck,
            f["class"].OneOf<DataClass>(),
            f["source"].Text()
        )
        {
            Dyes = f.Has("dyes") ? DyeList.OnFibres([.. f["dyes"].Items().Select(Dye)], fibres, f["dyes"].Path) : [],
        };
    }

    /// <summary>Without more words the dark fibre is polyester dyed in the melt, as in a grey heather; the rest is undyed.</summary>
    private static HeatherFleck Fleck(Field f, ImmutableArray<FibreShare> fibres)
    {
        var onCellulose = f.Has("darkFibre") && f["darkFibre"].OneOf<DarkFibre>() == DarkFibre.Cellulose;
        var share = f["darkShare"].Number(0, 1);
        if (onCellulose)
        {
            var cellulose = fibres.Where(s => s.Fibre != FibreKind.Polyester).Sum(s => s.Share);
            if (share > cellulose + 0.001)
                throw new GarmentFormatException(
                    f["darkShare"].Path,
                    FormattableString.Invariant(
                        $"{share} is more than the {cellulose:0.###} of cotton and viscose in the cloth; the dark fibre is cellulose"
                    )
                );
        }
        return new(Dyed(f["darkLab"]), onCellulose ? ClothSpectra.WhitePolyester() : ClothSpectra.UndyedCotton(), share)
        {
            DarkOnCellulose = onCellulose,
        };
    }

    private static Spectrum Dyed(Field f)
    {
        var lab = f.Lab();
        try
        {
            return ClothSpectra.FromLab(lab);
        }
        catch (ArgumentException e)
        {
            throw new GarmentFormatException(f.Path, e.Message);
        }
    }

    private enum DarkFibre
    {
        Polyester,
        Cellulose,
    }

    private static DyeShare Dye(Field f)
    {
        var kind = DyeList.Kind(f["dye"].Text(), f["dye"].Path);
        return new(
            kind,
            f["strength"].Number(0.001, 1000),
            f.Has("residual") ? f["residual"].Number(0, 1) : kind.ResidualShare
        );
    }

    private static FibreKind Fibre(Field f) =>
        Enum.TryParse<FibreKind>(f.Name, ignoreCase: true, out var fibre)
            ? fibre
            : throw new GarmentFormatException(
                f.Path,
                $"\"{f.Name}\" is no fibre known here; {string.Join(", ", Enum.GetNames<FibreKind>()).ToLowerInvariant()} are"
            );
}
