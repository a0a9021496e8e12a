namespace Architecture.Tests.Twins;

/// <summary>Breaks "pure projects touch no file and no clock" on purpose.</summary>
internal static class ImpureOnPurpose
{
    public static int ReadsAFile() => File.ReadAllBytes("art.png").Length;

    public static DateTimeOffset AsksTheTime() => DateTimeOffset.UtcNow;

    public static int DrawsUnseeded() => new Random().Next();

    public static string AsksTheEnvironment() => Environment.MachineName;
}

/// <summary>Breaks "no vague names" on purpose.</summary>
internal static class PlateManager;

/// <summary>Breaks "no static state" on purpose.</summary>
internal static class RemembersOnPurpose
{
    private static int s_calls;

    public static int Calls() => ++s_calls;
}
