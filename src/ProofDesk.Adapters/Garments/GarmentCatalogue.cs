using System.Collections.Immutable;
using System.Security.Cryptography;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Adapters.Garments;

/// <summary>The garments of a folder: one sub-folder each with a garment.json.</summary>
public sealed class GarmentCatalogue
{
    private GarmentCatalogue(ImmutableArray<Garment> garments) => Garments = garments;

    /// <summary>All garments, by identifier.</summary>
    public ImmutableArray<Garment> Garments { get; }

    /// <summary>The garment with this identifier, or null.</summary>
    public Garment? Find(string id) => Garments.FirstOrDefault(g => g.Id == id);

    /// <summary>The garments folder that ships beside the program.</summary>
    public static string ShippedFolder => Path.Combine(AppContext.BaseDirectory, "garments");

    /// <summary>Reads every garment of a folder.</summary>
    /// <exception cref="GarmentFormatException">A file is not as docs/garment-format.md says; the message starts with the file.</exception>
    /// <exception cref="DirectoryNotFoundException">There is no such folder.</exception>
    public static GarmentCatalogue Load(string folder)
    {
        if (!Directory.Exists(folder))
            throw new DirectoryNotFoundException($"no garments folder at {folder}");
        var garments = ImmutableArray.CreateBuilder<Garment>();
        foreach (
            var file in Directory
                .EnumerateFiles(folder, "garment.json", SearchOption.AllDirectories)
                .Order(StringComparer.Ordinal)
        )
        {
            var json = File.ReadAllBytes(file);
            try
            {
                var garment = Read(json);
                if (garments.Any(g => g.Id == garment.Id))
                    throw new GarmentFormatException(
                        "id",
                        $"\"{garment.Id}\" is already the id of another garment; give this one its own"
                    );
                garments.Add(garment);
            }
            catch (GarmentFormatException e)
            {
                throw new GarmentFormatException(
                    $"{Path.GetRelativePath(folder, file)}: {e.Field}",
                    e.Message[(e.Field.Length + 2)..]
                );
            }
        }
        return new GarmentCatalogue(garments.ToImmutable());
    }

    /// <summary>Reads one garment file.</summary>
    /// <exception cref="GarmentFormatException">It is not as docs/garment-format.md says.</exception>
    public static Garment Read(byte[] json) => GarmentFile.Parse(json, Convert.ToHexStringLower(SHA256.HashData(json)));
}
