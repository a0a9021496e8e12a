using System.Globalization;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Web.Devices;

public sealed record DevicesPage(IReadOnlyList<ShopDevice> Devices, IReadOnlyList<ShopFrame> Frames, int FallbackDpi)
{
    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>"1440 x 720 dpi".</summary>
    public static string Dpi(DeviceRecord record) =>
        record.XDpi == record.YDpi
            ? $"{Number(record.XDpi)} dpi"
            : $"{Number(record.XDpi)} × {Number(record.YDpi)} dpi";

    public static string HandOver(DeviceRecord record) =>
        record.HandOver == DeviceRecord.Dots ? "dots ours: 1-bit films" : "dots theirs: 8-bit plates";

    public static string Inner(FrameRecord record) =>
        record.InnerWidthMm is null && record.InnerHeightMm is null
            ? "not said"
            : $"{(record.InnerWidthMm is { } w ? Number(w) : "?")} × {(record.InnerHeightMm is { } h ? Number(h) : "?")} mm";
}

/// <param name="History">Versions, the newest first; empty for a new device.</param>
public sealed record DevicePage(DeviceForm Form, IReadOnlyList<ShopDevice> History, IReadOnlyList<ShopFrame> Frames)
{
    public ShopDevice? Current => History.Count > 0 ? History[0] : null;
}

/// <param name="History">Versions, the newest first; empty for a new frame template.</param>
public sealed record FramePage(FrameForm Form, IReadOnlyList<ShopFrame> History)
{
    public ShopFrame? Current => History.Count > 0 ? History[0] : null;
}
