namespace ProofDesk.Cli;

/// <summary>The verbs. Problems go to the error stream, results to the output stream.</summary>
internal static class CommandLine
{
    public const int Done = 0;

    /// <summary>The art or the settings cannot do this.</summary>
    public const int Refused = 1;

    /// <summary>The command was not understood.</summary>
    public const int Usage = 2;

    private static readonly string[] Verbs =
    [
        "make",
        "verify",
        "scan",
        "methods",
        "garments",
        "photo-garment",
        "inks",
        "test-form",
        "press-fit",
        "screens",
        "backup",
        "restore",
        "verify-store",
        "log-key",
        "log-epoch",
        "erase-person",
        "help",
    ];

    private const string Help = """
        usage: proofdesk make ART --garment ID --colour ID[,ID...] --method ID --width-mm N --out DIR [options]
               proofdesk screens ART --garment ID --colour ID[,ID...] --method simulated-process --width-mm N [--json]
               proofdesk verify PACKET.zip [--key KEY] [--rerender]
               proofdesk scan PACKET.zip CODE
               proofdesk test-form --out DIR [--mesh LABEL] [--inks ID,ID]
               proofdesk photo-garment PHOTO --tape TAPE --seam POINT --down POINT --area POINTS --out DIR
               proofdesk press-fit READINGS.json [--scan PNG] --out PRESS.json
               proofdesk backup FOLDER [--data DIR] | restore FOLDER --into DIR | verify-store [DIR]
               proofdesk log-key show | rotate | revoke KEY --from SIZE
               proofdesk log-epoch open
               proofdesk erase-person ADDRESS --why TEXT
               proofdesk methods | garments | inks [--file FILE]
        'proofdesk make --help' lists the options
        """;

    public static async Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        switch (args)
        {
            case ["make", .. var rest]:
                return await MakeCommand.RunAsync(rest, output, error, cancel);
            case ["screens", .. var rest]:
                return await ScreensCommand.RunAsync(rest, output, error, cancel);
            case ["verify", .. var rest]:
                return await VerifyCommand.RunAsync(rest, output, error, cancel);
            case ["scan", .. var rest]:
                return ScanCommand.Run(rest, output, error);
            case ["log-key", .. var rest]:
                return await LogKeyCommand.RunAsync(rest, output, error, cancel);
            case ["log-epoch", .. var rest]:
                return await LogEpochCommand.RunAsync(rest, output, error, cancel);
            case ["erase-person", .. var rest]:
                return await ErasePersonCommand.RunAsync(rest, output, error, cancel);
            case ["methods", .. var rest]:
                return MethodsCommand.Run(rest, output, error);
            case ["garments", .. var rest]:
                return GarmentsCommand.Run(rest, output, error);
            case ["photo-garment", .. var rest]:
                return await PhotoGarmentCommand.RunAsync(rest, output, error, cancel);
            case ["inks", .. var rest]:
                return InksCommand.Run(rest, output, error);
            case ["test-form", .. var rest]:
                return TestFormCommand.Run(rest, output, error, cancel);
            case ["press-fit", .. var rest]:
                return await PressFitCommand.RunAsync(rest, output, error, cancel);
            case ["backup", .. var rest]:
                return await BackupCommand.RunAsync(rest, output, error, cancel);
            case ["restore", .. var rest]:
                return await RestoreCommand.RunAsync(rest, output, error, cancel);
            case ["verify-store", .. var rest]:
                return await VerifyStoreCommand.RunAsync(rest, output, error, cancel);
            case ["help" or "--help" or "-h"]:
                output.WriteLine(Help);
                return Done;
            case []:
                error.WriteLine(Help);
                return Usage;
            default:
                return Misunderstood(error, $"no verb '{args[0]}'{Nearest.Guess(args[0], Verbs)}", Help);
        }
    }

    /// <summary>Says what was not understood and how it is done.</summary>
    public static int Misunderstood(TextWriter error, string what, string hint)
    {
        error.WriteLine(what);
        error.WriteLine(hint);
        return Usage;
    }

    /// <summary>For verbs that take nothing.</summary>
    public static bool TakesNothing(string verb, string[] args, TextWriter error)
    {
        if (args.Length == 0)
            return true;
        Misunderstood(error, $"'{verb}' takes nothing, '{args[0]}' given", $"usage: proofdesk {verb}");
        return false;
    }
}
