using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Tests.Screening;

/// <summary>Longest beats of dots and threads as physics 1.13 computed them, in millimetres.</summary>
public sealed class MeshBeatTests
{
    [Theory]
    [InlineData(90, 0, 2.95)]
    [InlineData(90, 15, 5.98)]
    [InlineData(90, 45, 5.35)]
    [InlineData(90, 22.5, 1.05)]
    [InlineData(90, 7.5, 0.98)]
    [InlineData(120, 22.5, 0.41)]
    [InlineData(120, 45, 0.36)]
    [InlineData(120, 7.5, 0.82)]
    public void The_longest_beat_at_55_lpi_is_the_published_one(double threads, double angle, double expected)
    {
        Assert.Equal(expected, MeshBeat.PeriodMm(new Mesh(threads, 40), 55, angle), 0.005);
    }

    [Fact]
    public void A_quarter_turn_changes_nothing()
    {
        var mesh = new Mesh(77, 55);

        for (var angle = 0.0; angle < 90; angle += 7)
            Assert.Equal(MeshBeat.PeriodMm(mesh, 45, angle), MeshBeat.PeriodMm(mesh, 45, angle + 90), 1e-6);
    }

    [Fact]
    public void The_better_angle_is_quiet_and_near()
    {
        var quiet = MeshBeat.QuietAngle(new Mesh(90, 40), 55, 15);

        Assert.Equal(7.5, quiet.AngleDegrees);
        Assert.Equal(0.98, quiet.PeriodMm, 0.005);
    }

    [Fact]
    public void Dots_in_step_with_the_threads_beat_for_ever()
    {
        // 25.4 lpi are 10 lines a cm: every sixth harmonic is a thread of 60 per cm.
        Assert.Equal(MeshBeat.LongestMm, MeshBeat.PeriodMm(new Mesh(60, 50), 25.4, 0));
    }
}
