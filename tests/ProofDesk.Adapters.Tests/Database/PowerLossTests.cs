using System.Diagnostics;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>
/// The power goes: of the database only flushed bytes stay, and a random third of the others. The same cut with synchronous=OFF must
/// break promises, or this test could not see a loss.
/// </summary>
public sealed class PowerLossTests(ITestOutputHelper output)
{
    [SkippableFact]
    public async Task A_power_cut_takes_nothing_that_was_acknowledged()
    {
        using var shim = new Shim();
        using var house = new KilledHouse(LongCounts.Asked ? QuickPrograms.Folder : null);
        await house.BeginMigratedAsync();
        var random = new Random(2);
        var cuts = LongCounts.Asked ? LongCounts.Of(100) : 2;
        for (var cut = 0; cut < cuts; cut++)
        {
            house.CutPower(shim.Path, "FULL", 1 + random.Next(3), random.Next(60), cut);
            Assert.Equal([], await house.BrokenAsync());
        }

        output.WriteLine($"{cuts} power cuts, {house.Acknowledged} decisions acknowledged, none lost");
    }

    [SkippableFact]
    public async Task The_same_cut_without_flushing_is_noticed()
    {
        using var shim = new Shim();
        using var house = new KilledHouse();
        await house.BeginMigratedAsync();

        house.CutPower(shim.Path, "OFF", 2, 10, 1);

        var broken = await house.BrokenAsync();
        output.WriteLine(string.Join(Environment.NewLine, broken));
        Assert.NotEmpty(broken);
    }

    /// <summary>
    /// The disk says EIO to one flush and forgets what it held, then works on; after a few more decisions the power goes. Whatever was
    /// acknowledged before or after is there.
    /// </summary>
    [SkippableFact]
    public async Task What_a_failed_flush_took_was_never_acknowledged()
    {
        Skip.IfNot(LongCounts.Asked, "flushes that fail: PROOFDESK_LONG=1");
        using var shim = new Shim();
        using var house = new KilledHouse(QuickPrograms.Folder);
        await house.BeginMigratedAsync();
        var random = new Random(3);
        var failures = LongCounts.Of(30);
        for (var failure = 0; failure < failures; failure++)
        {
            house.CutPower(shim.Path, "FULL", 3, random.Next(60), failure, failing: 5 + random.Next(25));
            Assert.Equal([], await house.BrokenAsync());
        }

        output.WriteLine(
            $"{failures} failed flushes: {house.Refused} rounds broken off, {house.Acknowledged} decisions acknowledged, none lost"
        );
        Assert.True(house.Refused > 0);
    }

    private sealed class Shim : IDisposable
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-shim-").FullName;

        public Shim()
        {
            Skip.IfNot(OperatingSystem.IsLinux(), "LD_PRELOAD is of Linux");
            Skip.IfNot(
                File.Exists("/usr/bin/gcc"),
                "gcc is not installed; apt-get install gcc libc6-dev to run this test"
            );
            Path = System.IO.Path.Combine(_folder, "flushed.so");
            var source = System.IO.Path.Combine(AppContext.BaseDirectory, "PowerLoss", "flushed.c");
            using var gcc = Process.Start(
                new ProcessStartInfo(
                    "/usr/bin/gcc",
                    ["-shared", "-fPIC", "-O1", "-Wall", "-o", Path, source, "-ldl", "-lpthread"]
                )
                {
                    UseShellExecute = false,
                    RedirectStandardError = true,
                }
            )!;
            var said = gcc.StandardError.ReadToEnd();
            gcc.WaitForExit();
            Skip.If(
                said.Contains("No such file", StringComparison.Ordinal),
                "gcc has no headers; apt-get install libc6-dev"
            );
            Assert.True(gcc.ExitCode == 0, said);
        }

        public string Path { get; }

        public void Dispose() => Directory.Delete(_folder, recursive: true);
    }
}
