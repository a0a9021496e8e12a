using System.Collections.Immutable;

namespace ProofDesk.Approvals.Decisions;

/// <summary>
/// What makes an answer look like a program's, such as the scanner of a mail gateway. A sign never refuses anything: people with
/// a screen reader or with a list of ticks in their head are quick too. It holds production until staff have looked.
/// </summary>
public static class RobotSigns
{
    public const string HiddenField = "hidden-field";
    public const string HiddenBox = "hidden-box";
    public const string TooQuick = "too-quick";
    public const string NeverLooked = "never-looked";
    public const string NoForm = "no-form";
    public const string BothAnswers = "both-answers";

    private static readonly ImmutableSortedDictionary<string, string> Sentences = ImmutableSortedDictionary
        .Create<string, string>(StringComparer.Ordinal)
        .Add(HiddenField, "a field was filled that people do not see")
        .Add(HiddenBox, "a box was ticked that people do not see")
        .Add(TooQuick, "it came sooner than anybody reads the page")
        .Add(NeverLooked, "the proof was never opened through this link")
        .Add(NoForm, "it did not come from the form we gave out")
        .Add(BothAnswers, "the other answer was pressed within a minute");

    public static ImmutableArray<string> All { get; } = [.. Sentences.Keys];

    /// <summary>"a field was filled that people do not see; it came sooner than anybody reads the page".</summary>
    public static string Say(IEnumerable<string> signs) =>
        string.Join("; ", signs.Select(sign => Sentences.GetValueOrDefault(sign, sign)));
}
