using System.Collections.Immutable;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Garments;

/// <summary>Checks the dyes a garment file names: known by name, on a fibre the cloth has.</summary>
internal static class DyeList
{
    public static DyeKind Kind(string id, string where) =>
        DyeKind.Find(id)
        ?? throw new GarmentFormatException(
            where,
            $"\"{id}\" is no dye known here; {string.Join(", ", DyeKind.All.Select(d => d.Id))} are"
        );

    public static ImmutableArray<DyeShare> OnFibres(
        ImmutableArray<DyeShare> dyes,
        ImmutableArray<FibreShare> fibres,
        string where
    )
    {
        for (var i = 0; i < dyes.Length; i++)
            if (!fibres.Any(f => f.Share > 0 && f.Fibre == FibreKind.Polyester == dyes[i].Dye.OnPolyester))
                throw new GarmentFormatException(
                    $"{where}[{i}].dye",
                    $"{dyes[i].Dye.Name} dyes {(dyes[i].Dye.OnPolyester ? "polyester" : "cotton and viscose")}, of which the cloth has none"
                );
        return dyes;
    }
}
