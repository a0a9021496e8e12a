using NetVips;

namespace ProofDesk.Adapters.Codecs;

/// <summary>Sets the picture library up once a process: nothing cached, and only the loaders we read with.</summary>
internal static class Vips
{
    private static readonly Lock Door = new();
    private static bool _ready;

    /// <summary>
    /// All loaders are shut and five opened again; those that read a file by name stay shut, so a picture can never
    /// make the library open another file.
    /// </summary>
    public static void Prepare()
    {
        lock (Door)
        {
            if (_ready)
                return;
            Cache.Max = 0;
            Cache.MaxMem = 0;
            Cache.MaxFiles = 0;
            Operation.Block("VipsForeignLoad", true);
            foreach (
                var loader in (string[])
                    [
                        "VipsForeignLoadPngBuffer",
                        "VipsForeignLoadJpegBuffer",
                        "VipsForeignLoadTiffBuffer",
                        "VipsForeignLoadWebpBuffer",
                        "VipsForeignLoadSvgBuffer",
                    ]
            )
                Operation.Block(loader, false);
            _ready = true;
        }
    }
}
