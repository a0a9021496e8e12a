using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// The device that writes films or exposes screens, as the shop measured it. Stretch is applied when the dots are made: a
/// film of finished dots that is scaled afterwards beats with them.
/// </summary>
/// <param name="XDpi">Film pixels to an inch of print across: the device's own dots, and its stretch.</param>
/// <param name="YDpi">The same down.</param>
/// <param name="Mirror">Device needs the image mirrored.</param>
public sealed record OutputDevice(string Name, double XDpi, double YDpi, HandOver HandOver, bool Mirror)
{
    /// <summary>Used when the shop has not described its device.</summary>
    public static OutputDevice Fallback { get; } = new("fallback film recorder", 1440, 1440, HandOver.DotsOurs, false);

    /// <summary>Where things lie on its films.</summary>
    [LaterSetting]
    public FrameTemplate Frame { get; init; } = FrameTemplate.Usual;

    /// <summary>Distance of the print's top edge from the pallet edge on the frame template.</summary>
    public double ImageFromPalletEdgeMm
    {
        get => Frame.ImageFromPalletEdgeMm;
        init => Frame = Frame with { ImageFromPalletEdgeMm = value };
    }

    /// <summary>The widest film it takes; null = nobody has said.</summary>
    [LaterSetting]
    public double? LargestWidthMm { get; init; }

    /// <summary>
    /// How much longer than asked the film is written, in percent, because device and film shrink it by as much; negative
    /// where they stretch it.
    /// </summary>
    [LaterSetting]
    public double XStretchPercent { get; init; }

    [LaterSetting]
    public double YStretchPercent { get; init; }

    /// <summary>The smallest dot that comes out of it, um across; 0 = nobody has said.</summary>
    [LaterSetting]
    public double LeastDotUm { get; init; }

    /// <summary>What it makes of tones; null = what is asked.</summary>
    [LaterSetting]
    public DeviceTones? Tones { get; init; }

    public bool IsStretched => XStretchPercent != 0 || YStretchPercent != 0;

    /// <summary>Its own resolution across, dots per inch: what a film file is tagged with, so that nothing scales it.</summary>
    public double OwnXDpi => Math.Round(XDpi / (1 + XStretchPercent / 100), 6);

    /// <summary>The same down.</summary>
    public double OwnYDpi => Math.Round(YDpi / (1 + YStretchPercent / 100), 6);

    /// <summary>The same device, whose films come out so many percent too small.</summary>
    public OutputDevice Stretched(double xPercent, double yPercent) =>
        this with
        {
            XDpi = OwnXDpi * (1 + xPercent / 100),
            YDpi = OwnYDpi * (1 + yPercent / 100),
            XStretchPercent = xPercent,
            YStretchPercent = yPercent,
        };

    /// <summary>Another machine in its place: it shares who makes the dots and the frame, nothing that was measured.</summary>
    public OutputDevice Replaced(string name, double xDpi, double yDpi) =>
        new(name, xDpi, yDpi, HandOver, Mirror) { Frame = Frame };
}
