namespace ProofDesk.Approvals.Decisions;

/// <summary>
/// The code mailed on demand: eight digits, so about 26 bits, which five tries in ten minutes cannot guess (1 in 20 million). NIST
/// SP 800-63B-4 asks 20 bits and ten minutes at most of a secret sent out of band.
/// </summary>
public static class CodeRules
{
    public const int Digits = 8;
    public const int Minutes = 10;
    public const int Tries = 5;

    /// <summary>Codes a link may ask for within an hour.</summary>
    public const int PerHour = 3;

    /// <summary>What an answer must carry: the order's own wish, otherwise the shop's rule by value. A value nobody named asks for no code.</summary>
    public static EvidenceLevel Asked(EvidenceLevel? ofOrder, long? valueMinor, long? codeFromValueMinor) =>
        ofOrder
        ?? (
            valueMinor is { } value && codeFromValueMinor is { } from && value >= from
                ? EvidenceLevel.Code
                : EvidenceLevel.Link
        );

    /// <summary>Digits of what somebody typed or pasted, blanks and hyphens left out.</summary>
    public static string Plain(string? typed) => string.Concat((typed ?? "").Where(char.IsAsciiDigit));

    internal static IEnumerable<Refusal> Judge(DecisionStatement said, DecisionContext context)
    {
        // Taking back is the careful direction, and what staff was told carries no code.
        if (
            context.Asked != EvidenceLevel.Code
            || said.Kind == DecisionKind.Withdraw
            || said.Evidence.Level != EvidenceLevel.Link
        )
        {
            yield break;
        }

        yield return context.Code switch
        {
            CodeTry.Spent => new(
                "code-spent",
                $"This code has ended: it is good for {Minutes} minutes, {Tries} tries and one answer. Ask for a new one."
            ),
            CodeTry.Wrong { Left: 1 } => new("code-wrong", "This is not the code we mailed. One try is left."),
            CodeTry.Wrong wrong => new("code-wrong", $"This is not the code we mailed. {wrong.Left} tries are left."),
            _ => new("code-missing", "Type the code from the mail we sent you."),
        };
    }
}

/// <summary>What became of a code that was typed.</summary>
public abstract record CodeTry
{
    private CodeTry() { }

    /// <param name="Left">Tries that remain, at least one.</param>
    public sealed record Wrong(int Left) : CodeTry;

    /// <summary>No code is open: none was mailed, its time or tries are over, or it was used.</summary>
    public sealed record Spent : CodeTry;

    public sealed record Right : CodeTry;
}
