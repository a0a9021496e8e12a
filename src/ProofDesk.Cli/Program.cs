using System.Globalization;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Cli;

CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;

if (args is [DecodeWorker.Verb, ..])
{
    using var input = Console.OpenStandardInput();
    using var output = Console.OpenStandardOutput();
    return DecodeWorker.Run(args[1..], input, output);
}

using var stopping = new CancellationTokenSource();
Console.CancelKeyPress += (_, e) =>
{
    e.Cancel = true;
    stopping.Cancel();
};
return await CommandLine.RunAsync(args, Console.Out, Console.Error, stopping.Token);
