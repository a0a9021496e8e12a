using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Codecs.Pdf;

namespace ProofDesk.Adapters.Tests.Codecs.Pdf;

/// <summary>Decoders as they are on other machines.</summary>
internal static class PdfDecoders
{
    public static ArtDecoder With(PdfPrograms programs, DecodeLimits? limits = null, Sandbox? sandbox = null) =>
        new(WorkerProgram.Beside(AppContext.BaseDirectory), limits, allowUnsandboxed: true, programs, sandbox);
}
