using System.Globalization;

namespace ProofDesk.Imaging.Tests.Colour;

/// <summary>A table of tests/PublishedData; its README says where each comes from.</summary>
internal static class PublishedTable
{
    /// <summary>All rows below the heading, as numbers; a first column that is a name is left out.</summary>
    internal static double[][] Rows(string file)
    {
        using var stream =
            typeof(PublishedTable).Assembly.GetManifestResourceStream(file)
            ?? throw new InvalidOperationException($"{file} is not embedded");
        using var reader = new StreamReader(stream);
        return
        [
            .. reader
                .ReadToEnd()
                .Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Skip(1)
                .Select(line =>
                    line.Split(',').Skip(1).Select(f => double.Parse(f, CultureInfo.InvariantCulture)).ToArray()
                ),
        ];
    }
}
