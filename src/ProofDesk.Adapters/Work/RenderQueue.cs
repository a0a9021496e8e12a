namespace ProofDesk.Adapters.Work;

/// <summary>A claimed render. <paramref name="Run"/> is the fence it must show when it publishes.</summary>
public sealed record RenderJob(
    Guid WorkId,
    Guid VersionId,
    Guid OrderId,
    int VersionNumber,
    string RequestJson,
    long Run,
    int Attempt
);

public sealed record RenderProgress(string Stage, int PercentDone);

/// <summary>A file the render made, on disk or in memory; opened once when it is stored.</summary>
public sealed record RenderedFile(string Path, string Role, string MediaType, Func<Stream> Open);

/// <summary>A rendered file after it was stored.</summary>
public sealed record StoredFile(string Path, string Role, string MediaType, long Bytes, string Sha256, string Sha512);

public abstract record RenderOutcome
{
    private RenderOutcome() { }

    /// <param name="ManifestOf">canonical manifest bytes of the stored files (Approvals makes them)</param>
    public sealed record Done(
        IReadOnlyList<RenderedFile> Files,
        Func<IReadOnlyList<StoredFile>, byte[]> ManifestOf,
        string FindingsJson
    ) : RenderOutcome;

    /// <summary>The art or the settings cannot do this; trying again would not help.</summary>
    public sealed record Refused(string Reason, string FindingsJson) : RenderOutcome;
}

/// <summary>The render itself. Web wires the proof maker in; it must stop soon after <paramref name="cancel"/>.</summary>
public delegate Task<RenderOutcome> RenderHandler(
    RenderJob job,
    IProgress<RenderProgress> progress,
    CancellationToken cancel
);
