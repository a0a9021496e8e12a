using System.Diagnostics;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Tests.Database;

namespace ProofDesk.Adapters.Tests.Operations;

/// <summary>A file system of 12 MB in memory, unmounted at the end.</summary>
internal sealed class SmallDisk : IDisposable
{
    private readonly string _mount = Directory.CreateTempSubdirectory("proofdesk-disk-").FullName;

    private SmallDisk() { }

    private string Filler => Path.Combine(_mount, "filler");

    public static SmallDisk OrSkip()
    {
        Skip.IfNot(OperatingSystem.IsLinux() && Environment.IsPrivilegedProcess, "mounting a small disk needs root");
        var disk = new SmallDisk();
        var mounted = Ran("mount", "-t", "tmpfs", "-o", "size=12m,mode=0700", "proofdesk-test", disk._mount);
        if (!mounted)
        {
            Directory.Delete(disk._mount);
        }
        Skip.IfNot(mounted, "this machine does not let a small disk be mounted");
        return disk;
    }

    public async Task<TestShop> ShopAsync(int reserveMegabytes)
    {
        var settings = await TestShop.SettingsAsync(Engine.Sqlite);
        var database = new DataFolder(settings.DataFolder).Database;
        var here = new DataFolder(Path.Combine(_mount, "data"));
        File.Copy(database, here.Database);
        Directory.Delete(settings.DataFolder, recursive: true);
        settings.DataFolder = here.Root;
        settings.ReserveMegabytes = reserveMegabytes;
        var shop = await TestShop.ReopenAsync(settings);
        await shop.AddShopRowAsync();
        return shop;
    }

    /// <summary>Writes until nothing fits.</summary>
    public void Fill()
    {
        using var filler = new FileStream(Filler, FileMode.Create, FileAccess.Write, FileShare.None, 1);
        foreach (var size in new[] { 1 << 16, 1 << 12 })
        {
            try
            {
                for (var zeros = new byte[size]; ; )
                {
                    filler.Write(zeros);
                }
            }
            catch (IOException) { }
        }
    }

    public void Free() => File.Delete(Filler);

    private static bool Ran(string program, params string[] arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo(program, arguments) { UseShellExecute = false, RedirectStandardError = true }
        )!;
        process.StandardError.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0;
    }

    public void Dispose()
    {
        Ran("umount", "-l", _mount);
        Directory.Delete(_mount);
    }
}
