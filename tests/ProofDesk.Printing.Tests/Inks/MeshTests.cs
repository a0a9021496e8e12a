using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Tests.Inks;

public sealed class MeshTests
{
    // Pitch, opening, open area and volume computed from threads and diameter by hand: w = q - d, A0 = (w/q)^2, V = A0 t.
    [Theory]
    [InlineData("24-140", 277, 44, 210, 93)]
    [InlineData("32-100", 213, 46, 150, 69)]
    [InlineData("43-80", 153, 43, 120, 52)]
    [InlineData("48-70", 138, 44, 105, 46)]
    [InlineData("61-64", 100, 37, 96, 36)]
    [InlineData("77-55", 75, 33, 82.5, 27)]
    [InlineData("90-48", 63, 32, 72, 23)]
    [InlineData("90-40", 71, 41, 60, 25)]
    [InlineData("120-34", 49, 35, 51, 18)]
    [InlineData("140-31", 40, 32, 46.5, 15)]
    public void Each_mesh_has_its_opening_open_area_thickness_and_ink_volume(
        string label,
        double opening,
        double openPercent,
        double thickness,
        double volume
    )
    {
        var mesh = Meshes.Find(label);

        Assert.NotNull(mesh);
        Assert.Equal(opening, mesh.OpeningUm, 1.0);
        Assert.Equal(openPercent, 100 * mesh.OpenArea, 0.6);
        Assert.Equal(thickness, mesh.FabricUm, 1e-9);
        Assert.Equal(volume, mesh.TheoreticalInkVolume, 0.7);
    }

    [Fact]
    public void Usual_meshes_are_in_the_table_and_a_base_is_coarser_than_fine_halftone()
    {
        foreach (var kind in Enum.GetValues<InkKind>())
        {
            Assert.Contains(Meshes.SolidBase(kind), Meshes.Default);
            Assert.Contains(Meshes.Spot(kind), Meshes.Default);
            Assert.True(Meshes.SolidBase(kind).ThreadsPerCm < Meshes.FineHalftone.ThreadsPerCm);
        }
        Assert.Null(Meshes.Find("1-1"));
    }
}
