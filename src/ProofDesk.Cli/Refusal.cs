using ProofDesk.Approvals.Manifests;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Cli;

/// <summary>What the person at the terminal can mend, as a line on the error stream and an exit code.</summary>
internal static class Refusal
{
    /// <summary>Nothing was read or written.</summary>
    public const int Code = 3;

    /// <summary>Runs it. A store, a log, a file or a database that cannot be worked with is said, not thrown.</summary>
    public static async Task<int> SaidAsync(TextWriter error, Func<Task<int>> run)
    {
        try
        {
            return await run();
        }
        catch (Exception e)
            when (e
                    // Stores and logs refuse with kinds of it.
                    is InvalidOperationException
                        or RecipeProblem
                        or RecordFormatException
                        or IOException
                        or UnauthorizedAccessException
                        or System.Data.Common.DbException
            )
        {
            error.WriteLine(e.Message.TrimEnd('.'));
            return Code;
        }
    }
}
