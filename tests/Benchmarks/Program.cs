using Benchmarks;

// A benchmark is read as a ratio against another program, or another release, on the same machine in the same run.
switch (args.FirstOrDefault())
{
    case "screening":
        return ScreeningBenchmark.Run(args[1..]);
    case "separation":
        return SeparationBenchmark.Run(args[1..]);
    case "kernels":
        return KernelBenchmark.Run();
    case "proof":
        return ProofBenchmark.Run(args[1..]);
    default:
        Console.Error.WriteLine(
            "usage: dotnet run -c Release --project tests/Benchmarks -- screening [--no-gs] | separation [PHOTOGRAPH] [--no-vips] [--only-eight] | kernels | proof [--no-vips]"
        );
        return 2;
}
