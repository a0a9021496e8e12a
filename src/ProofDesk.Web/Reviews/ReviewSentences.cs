using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Web.Reviews;

/// <summary>Sentences with something in them.</summary>
public static partial class ReviewText
{
    public static string NotPassed(string problem) => Say(nameof(NotPassed), problem);

    public static string PassedTooOften(int most) => Say(nameof(PassedTooOften), most);

    public static string VersionTitle(string title, int version) => Say(nameof(VersionTitle), title, version);

    public static string OrderLine(int order, string client, int version) =>
        Say(nameof(OrderLine), order, client, version);

    public static string ArtAlt(string place) => Say(nameof(ArtAlt), place);

    public static string GarmentAlt(string garment, string colour, string place) =>
        Say(nameof(GarmentAlt), garment, colour, place);

    public static string PrintAlt(string place, string colour) => Say(nameof(PrintAlt), place, colour);

    public static string FilmAlt(int screen, string ink) => Say(nameof(FilmAlt), screen, ink);

    public static string ScaleOf(string shown, string cloth) => Say(nameof(ScaleOf), shown, cloth);

    public static string LoupeHint(string square) => Say(nameof(LoupeHint), square);

    public static string RosterHint(int lines) => Say(nameof(RosterHint), lines);

    public static string RosterAlt(int lines) => Say(nameof(RosterAlt), lines);

    public static string RosterTicked(int lines) => Say(nameof(RosterTicked), lines);

    public static string Length(double mm) => Say(nameof(Length), mm, mm / 25.4);

    public static string Millimetres(double mm) => Say(nameof(Millimetres), mm);

    public static string SizesAlt(string garment, string sizes) => Say(nameof(SizesAlt), garment, sizes);

    public static string SizeMeasures(string size, string chest, string length) =>
        Say(nameof(SizeMeasures), size, chest, length);

    public static string PrintOnSize(string print, string width, double percent, string tape) =>
        Say(nameof(PrintOnSize), print, width, percent, tape);

    public static string SizeOf(string line, string size, int count) => Say(nameof(SizeOf), line, size, count);

    public static string ShirtsHint(int count, string window, string usual, string worst) =>
        Say(nameof(ShirtsHint), window, count, usual, worst);

    public static string ShirtsAlt(int count) => Say(nameof(ShirtsAlt), count);

    public static string EndsApart(double deltaE) => Say(nameof(EndsApart), deltaE);

    public static string RangeAlt(string end) => Say(nameof(RangeAlt), end);

    public static string ApproveTitle(int things) => Say(nameof(ApproveTitle), Number(things));

    public static string Step(int step, int steps) => Say(nameof(Step), step, steps);

    public static string CodeWhy(string address) => Say(nameof(CodeWhy), address);

    public static string CodeAsked(string address) =>
        Say(nameof(CodeAsked), address, CodeRules.Minutes, CodeRules.PerHour);

    public static string DisputeTooLong(int length, int most) => Say(nameof(DisputeTooLong), length, most);

    public static string SpotOn(string print) => Say(nameof(SpotOn), print);

    public static string SpotPress(string print) => Say(nameof(SpotPress), print);

    public static string SpotMore(string print) => Say(nameof(SpotMore), print);

    public static string ApproveVersion(int number) => Say(nameof(ApproveVersion), number);

    public static string WideAndScreens(double widthMm, int screens) =>
        Say(nameof(WideAndScreens), Length(widthMm), screens);

    public static string StaleForm(int newest) => Say(nameof(StaleForm), newest);

    public static string DecidedBy(string name, string kind, DateTimeOffset at) =>
        Say(nameof(DecidedBy), name, kind, Layout.Words.Moment(at));

    public static string Answered(string name, string did, int version, string at) =>
        Say(nameof(Answered), name, did, version, at);

    public static string AnsweredSample(string name, string did, string at) =>
        Say(nameof(AnsweredSample), name, did, at);

    public static string PiecesOn(int pieces, string colours) => Say(nameof(PiecesOn), pieces, colours);

    public static string NotThroughLink(string how, DateOnly day) =>
        Say(nameof(NotThroughLink), how, ReviewDates.Day(day));

    public static string AsToldStaff(string name) => Say(nameof(AsToldStaff), name);

    public static string Invited(string name, string address) => Say(nameof(Invited), name, address);

    public static string ProblemRoster(int missing, int line) => Say(nameof(ProblemRoster), missing, line);

    private static string Number(int things) => things == 5 ? Five : Four;

    /// <summary>What a sign that is taken for another is called.</summary>
    internal static string Sign(char sign) =>
        sign switch
        {
            '0' => SignZero,
            'O' => SignLetterO,
            '1' => SignOne,
            'l' => SignSmallL,
            'I' => SignCapitalI,
            '5' => SignFive,
            _ => SignLetterS,
        };

    internal static string ViewName(PictureView view) =>
        view switch
        {
            PictureView.Garment => ViewGarment,
            PictureView.Print => ViewPrint,
            PictureView.Films => ViewFilms,
            PictureView.Art => ViewArt,
            _ => ViewSizes,
        };

    /// <summary>A place by its English name; a name the shop gave stays.</summary>
    public static string PlaceName(string place) => Find("Place " + place) ?? place;

    public static string Kind(DecisionKind kind) =>
        kind switch
        {
            DecisionKind.Approve => KindApprove,
            DecisionKind.Changes => KindChanges,
            _ => KindWithdraw,
        };

    public static string Level(EvidenceLevel level) =>
        level switch
        {
            EvidenceLevel.Link => LevelLink,
            EvidenceLevel.Code => LevelCode,
            _ => LevelElsewhere,
        };

    public static string HasAnswered(Decision said, int version, TimeZoneInfo zone) =>
        Answered(
            Layout.Words.Name(said),
            said.Kind == DecisionKind.Approve ? DidApprove : DidChange,
            version,
            ReviewDates.Moment(said.At, zone)
        );

    public static string HasAnsweredSample(Decision said, TimeZoneInfo zone) =>
        AnsweredSample(
            Layout.Words.Name(said),
            said.Kind == DecisionKind.Approve ? DidApproveSample : DidChangeSample,
            ReviewDates.Moment(said.At, zone)
        );

    /// <summary>Why an answer is not taken. The rules speak English; what a person can mend is said in their language.</summary>
    public static string Refused(Refusal refusal) =>
        IsEnglish ? refusal.Text : Find("Refusal " + refusal.Code) ?? refusal.Text;

    internal static string DecidedText(DecisionResult.AlreadyDecided decided) =>
        IsEnglish
            ? decided.Text
            : DecidedBy(decided.Who, decided.What == DecisionKind.Approve ? DidApprove : DidChange, decided.When);

    internal static string StaleText(DecisionResult.Stale stale) =>
        IsEnglish ? stale.Text : StaleForm(stale.NewestNumber);

    private static bool IsEnglish => ReviewLanguage.Now.Page == ReviewLanguage.Fallback;
}
