using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Printing.Rosters;

namespace ProofDesk.Printing.Proofs;

/// <summary>What a transfer hands over besides its films: the order on the carrier, said plainly.</summary>
public static class CarrierOrder
{
    public static ImmutableArray<ProductionFile> Of(Proof proof)
    {
        var films = proof.Films;
        var csv = new StringBuilder("screen,plate,ink,mesh,film,on the carrier,on the cloth\r\n");
        for (var i = 0; i < films.Plates.Length; i++)
        {
            var plate = films.Plates[i].Plate;
            csv.Append(
                CultureInfo.InvariantCulture,
                $"{i + 1},{plate.Name},{plate.Ink.Name},{plate.Mesh.Label},{(films.Device.Mirror ? "mirrored" : "right-reading")},{Carrier(i, films.Plates.Length)},{Cloth(i, films.Plates.Length)}\r\n"
            );
        }
        return [new ProductionText("carrier-order.csv", "text/csv", csv.ToString()), .. RosterFiles.Of(proof)];
    }

    private static string Carrier(int screen, int count) =>
        screen == 0 ? "printed first"
        : screen == count - 1 ? "printed last"
        : $"printed on top of {screen}";

    private static string Cloth(int screen, int count) =>
        screen == 0 ? "on top"
        : screen == count - 1 ? "next to the cloth"
        : $"under {screen}";
}
