using System.Collections.Frozen;

namespace ProofDesk.Printing.Advice;

/// <summary>
/// Where the limit of a finding comes from, as the comments beside the limits in the code say it. "physics n.m" is a section of
/// part 2 of docs/colour-science.md.
/// </summary>
internal static class FindingSources
{
    private const string Art = "measured in the art";
    private const string Model = "computed from the plates, inks and cloth, physics 1.2 and 1.8";
    private const string Practice = "common practice";

    private static readonly FrozenDictionary<string, string> Known = new Dictionary<string, string>
    {
        ["thin-lines"] = "measured in the art; limit: common practice, physics 1.5 and 3.3",
        ["small-type"] = "measured in the art; limit: common practice, physics 3.3",
        ["no-tones"] = Art,
        ["painted-art"] = Art,
        ["many-colours"] = Art,
        ["flat-art"] = Art,
        ["speckled"] = Art,
        ["too-few-heads"] = "counted; heads of the press: common practice",
        ["too-few-flashes"] = "counted; flash units: common practice",
        ["larger-than-print-area"] = "print area of the press: common practice",
        ["whole-sides-only"] = Practice,
        ["cannot-be-sublimated"] = "physics 1.10, common practice",
        ["muted-on-blend"] = "computed, physics 1.7 and 1.10; limit: common practice",
        ["ground-tints-print"] = "computed, physics 1.10",
        ["white-is-the-cloth"] = "physics 3.6",
        ["cannot-be-discharged"] = "physics 1.9, common practice",
        ["nothing-to-discharge"] = "physics 1.9",
        ["partly-discharged"] = "computed, physics 1.9",
        ["part-of-the-fibres"] = "computed, physics 1.7 and 1.9",
        ["discharge-varies"] = "computed, physics 1.9",
        ["dye-migration"] = "computed, physics 3.7 (a proposal, not measured)",
        ["foil-lines-too-thin"] = "measured in the art; limit: physics 1.11, common practice",
        ["foil-gaps-too-thin"] = "measured in the art; limit: physics 1.11, common practice",
        ["several-foils"] = Practice,
        ["foil-wears"] = Practice,
        ["metallic-wears"] = Practice,
        ["strokes-too-thin"] = "measured in the art; limit: physics 3.3, common practice",
        ["gaps-too-thin"] = "measured in the art; limit: physics 3.3, common practice",
        ["small-pieces"] = "measured in the art; limit: physics 3.3, common practice",
        ["pieces-left-out"] = "measured in the art; limit: physics 3.3, common practice",
        ["holes-closed"] = "measured in the art; limit: physics 3.3, common practice",
        ["letters-too-small"] = "measured in the art; limit: physics 3.3, common practice",
        ["sheets-stacked"] = "counted",
        ["placed-by-hand"] = "physics 3.5, common practice",
        ["jet-on-polyester"] = Practice,
        ["far-from-art"] = Model,
        ["white-is-grey"] = Model,
        ["tonal-fit"] = "computed, physics 1.19",
        ["out-of-reach"] = "computed, physics 1.19",
    }.ToFrozenDictionary();

    public static string Of(string code) => Known.GetValueOrDefault(code, Art);
}
