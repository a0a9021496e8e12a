using System.Diagnostics.Metrics;

namespace ProofDesk.Adapters.Operations;

/// <summary>What the office counts while it works; names as OpenTelemetry writes them, seconds as it wants them.</summary>
internal static class Measures
{
    public const string MeterName = "ProofDesk";

    private static readonly Meter Meter = new(MeterName);

    public static readonly Histogram<double> Write = Meter.CreateHistogram<double>(
        "proofdesk.write.duration",
        "s",
        "A write transaction, waiting for its turn included."
    );

    public static readonly Counter<long> WriteRefused = Meter.CreateCounter<long>(
        "proofdesk.write.refused",
        null,
        "Write transactions given up: another program held the database, or the disk was full."
    );

    public static readonly Counter<long> MailTried = Meter.CreateCounter<long>(
        "proofdesk.mail.tried",
        null,
        "Tries to hand a letter over, by outcome."
    );

    public static readonly Histogram<double> Render = Meter.CreateHistogram<double>(
        "proofdesk.render.duration",
        "s",
        "From the claim of a render to its end, by outcome."
    );
}
