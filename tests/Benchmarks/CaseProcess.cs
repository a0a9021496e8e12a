using System.Diagnostics;
using System.Globalization;

namespace Benchmarks;

/// <summary>A case in a process of its own: cold means cold, and its peak of memory is its own.</summary>
internal static class CaseProcess
{
    /// <summary>Runs this program again and passes its lines on.</summary>
    /// <returns>What it says after "best": seconds of the best run, wall and processor.</returns>
    internal static (double Wall, double Processor) Run(string[] arguments)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!)
        {
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        if (Path.GetFileNameWithoutExtension(start.FileName).Equals("dotnet", StringComparison.Ordinal))
            start.ArgumentList.Add(typeof(CaseProcess).Assembly.Location);
        foreach (var argument in arguments)
            start.ArgumentList.Add(argument);
        using var child = Process.Start(start)!;
        var best = (double.NaN, double.NaN);
        while (child.StandardOutput.ReadLine() is { } line)
        {
            if (line.Split(' ') is ["best", var wall, var processor])
                best = (
                    double.Parse(wall, CultureInfo.InvariantCulture),
                    double.Parse(processor, CultureInfo.InvariantCulture)
                );
            else
                Console.WriteLine(line);
        }
        child.WaitForExit();
        if (child.ExitCode != 0)
            throw new InvalidOperationException($"{string.Join(' ', arguments)} ended with {child.ExitCode}");
        return best;
    }

    /// <summary>A field of /proc/self/status, MB.</summary>
    internal static double Memory(string field)
    {
        var line = File.ReadLines("/proc/self/status").First(l => l.StartsWith(field, StringComparison.Ordinal));
        return double.Parse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^2], CultureInfo.InvariantCulture)
            * 1024
            / 1e6;
    }
}
