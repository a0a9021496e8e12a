using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Web.Devices;

/// <summary>What the page of a device sends.</summary>
public sealed class DeviceForm
{
    private static readonly char[] Between = [' ', ',', ';', '\n', '\r', '\t'];

    /// <summary>The version the page was made from; 0 for a new device.</summary>
    public int Seen { get; set; }
    public string? Name { get; set; }
    public double XDpi { get; set; } = 1440;
    public double YDpi { get; set; } = 1440;
    public string HandOver { get; set; } = DeviceRecord.Dots;
    public bool Mirror { get; set; }
    public double? LargestWidthMm { get; set; }
    public double XStretchPercent { get; set; }
    public double YStretchPercent { get; set; }
    public double LeastDotUm { get; set; }

    /// <summary>Eleven numbers, or nothing.</summary>
    public string? TonesPercent { get; set; }

    /// <summary>Key of a frame template; empty for the usual one.</summary>
    public string? Frame { get; set; }

    public static DeviceForm Of(ShopDevice device) =>
        new()
        {
            Seen = device.Row.Version,
            Name = device.Record.Name,
            XDpi = device.Record.XDpi,
            YDpi = device.Record.YDpi,
            HandOver = device.Record.HandOver,
            Mirror = device.Record.Mirror,
            LargestWidthMm = device.Record.LargestWidthMm,
            XStretchPercent = device.Record.XStretchPercent,
            YStretchPercent = device.Record.YStretchPercent,
            LeastDotUm = device.Record.LeastDotUm,
            TonesPercent = device.Record.TonesPercent is { IsDefault: false } tones
                ? string.Join(' ', tones.Select(t => t.ToString("0.##", CultureInfo.InvariantCulture)))
                : "",
            Frame = device.Definition.FrameKey,
        };

    /// <summary>The record it describes; null for the tones when they are no numbers.</summary>
    public DeviceRecord Record(FrameRecord? frame, out string? wrongTones)
    {
        wrongTones = null;
        ImmutableArray<double>? tones = null;
        if (!string.IsNullOrWhiteSpace(TonesPercent))
        {
            var words = TonesPercent.Split(Between, StringSplitOptions.RemoveEmptyEntries);
            var numbers = new List<double>();
            foreach (var word in words)
                if (double.TryParse(word, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number))
                    numbers.Add(number);
                else
                    wrongTones ??= $"\"{word}\" is not a number; write eleven numbers with spaces between them";
            tones = [.. numbers];
        }
        return new()
        {
            Name = Name?.Trim() ?? "",
            XDpi = XDpi,
            YDpi = YDpi,
            HandOver = HandOver,
            Mirror = Mirror,
            LargestWidthMm = LargestWidthMm,
            XStretchPercent = XStretchPercent,
            YStretchPercent = YStretchPercent,
            LeastDotUm = LeastDotUm,
            TonesPercent = tones,
            Frame = frame,
        };
    }
}

/// <summary>What the page of a frame template sends.</summary>
public sealed class FrameForm
{
    public int Seen { get; set; }
    public string? Name { get; set; }
    public double ImageFromPalletEdgeMm { get; set; } = FrameTemplate.Usual.ImageFromPalletEdgeMm;
    public double MarkDistanceMm { get; set; } = FrameTemplate.Usual.MarkDistanceMm;
    public double MarkLineMm { get; set; } = FrameTemplate.Usual.MarkLineMm;
    public double MarkSizeMm { get; set; } = FrameTemplate.Usual.MarkSizeMm;
    public double SideMarginMm { get; set; } = FrameTemplate.Usual.SideMarginMm;
    public double LeastWidthMm { get; set; } = FrameTemplate.Usual.LeastWidthMm;
    public double? InnerWidthMm { get; set; }
    public double? InnerHeightMm { get; set; }

    public static FrameForm Of(ShopFrame frame) =>
        new()
        {
            Seen = frame.Row.Version,
            Name = frame.Record.Name,
            ImageFromPalletEdgeMm = frame.Record.ImageFromPalletEdgeMm,
            MarkDistanceMm = frame.Record.MarkDistanceMm,
            MarkLineMm = frame.Record.MarkLineMm,
            MarkSizeMm = frame.Record.MarkSizeMm,
            SideMarginMm = frame.Record.SideMarginMm,
            LeastWidthMm = frame.Record.LeastWidthMm,
            InnerWidthMm = frame.Record.InnerWidthMm,
            InnerHeightMm = frame.Record.InnerHeightMm,
        };

    public FrameRecord Record() =>
        new()
        {
            Name = Name?.Trim() ?? "",
            ImageFromPalletEdgeMm = ImageFromPalletEdgeMm,
            MarkDistanceMm = MarkDistanceMm,
            MarkLineMm = MarkLineMm,
            MarkSizeMm = MarkSizeMm,
            SideMarginMm = SideMarginMm,
            LeastWidthMm = LeastWidthMm,
            InnerWidthMm = InnerWidthMm,
            InnerHeightMm = InnerHeightMm,
        };
}
