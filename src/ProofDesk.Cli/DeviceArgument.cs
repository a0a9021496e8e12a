using ProofDesk.Printing.Screening;

namespace ProofDesk.Cli;

/// <summary>--device and --frame: the shop's output device from files, with what else was said about it.</summary>
internal static class DeviceArgument
{
    /// <exception cref="UsageProblem">There is no such file, or it is no such record.</exception>
    public static OutputDevice Read(MakeArguments arguments)
    {
        try
        {
            var device = arguments.DeviceFile is { } file
                ? DeviceRecord.Read(Text(file), file).Device()
                : OutputDevice.Fallback;
            if (arguments.FrameFile is { } frame)
                device = device with { Frame = FrameRecord.Read(Text(frame), frame).Template() };
            if (arguments.FilmDpi is { } dpi)
            {
                var (across, down) = (device.XStretchPercent, device.YStretchPercent);
                device = (device with { XDpi = dpi, YDpi = dpi, XStretchPercent = 0, YStretchPercent = 0 }).Stretched(
                    across,
                    down
                );
            }
            return device with
            {
                HandOver = arguments.HandOver ?? device.HandOver,
                Mirror = arguments.Mirror || device.Mirror,
            };
        }
        catch (RecordProblem problem)
        {
            throw new UsageProblem(problem.Message, problem.NextStep);
        }
    }

    private static string Text(string file) =>
        File.Exists(file) ? File.ReadAllText(file) : throw new UsageProblem($"there is no file '{file}'");
}
