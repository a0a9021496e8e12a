using ProofDesk.Adapters.Garments;

namespace ProofDesk.Cli;

/// <summary>`proofdesk garments`: what can be printed on.</summary>
internal static class GarmentsCommand
{
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        if (!CommandLine.TakesNothing("garments", args, error))
            return CommandLine.Usage;
        foreach (var garment in GarmentCatalogue.Load(GarmentCatalogue.ShippedFolder).Garments)
        {
            output.WriteLine(
                $"{garment.Id}  {garment.Name}, sizes {string.Join(" ", garment.Sizes.Select(s => s.Size))}"
            );
            foreach (var colour in garment.Colours)
            {
                var fibres = string.Join(
                    ", ",
                    colour.Fibres.Select(f => $"{f.Share * 100:0.#} % {f.Fibre.ToString().ToLowerInvariant()}")
                );
                output.WriteLine($"  {colour.Id}  {colour.Name}: {fibres}; data class {colour.DataClass}");
            }
        }
        return CommandLine.Done;
    }
}
