using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc.Rendering;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using ProofDesk.Adapters.Database;
using ProofDesk.HostileText;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>An answer of the run, kept so that a browser can be shown it.</summary>
public sealed record KeptAnswer(string Form, Page Page);

/// <summary>
/// Types hostile strings into every text field of every form the server hands out, all fields of a form at once, and those that
/// are refused once more without those that were the reason; reads the answer and the page it leads to as a browser does.
/// </summary>
public sealed class HostileRun(InventoryServer server, IReadOnlyList<HostileString> strings)
{
    private const int Step = 37;

    // What a form needs besides the field that is tried, by the name of the field.
    private readonly Dictionary<string, string> usual = new()
    {
        ["Title"] = "tried",
        ["ClientName"] = "Harbour Rowing Club",
        ["ClientEmail"] = "kim@harbour-rowing.example",
        ["Name"] = "Kim Reed",
        ["name"] = "Kim Reed",
        ["email"] = "kim@harbour-rowing.example",
        ["L"] = "31",
        ["A"] = "10",
        ["B"] = "-44",
        ["What"] = "tees",
        ["By"] = "others",
        ["Why"] = "sold out",
        ["Good"] = "1",
        ["Reason"] = "in a hurry",
        ["Who"] = "Kim Reed",
        ["How"] = "by telephone",
        ["Day"] = "2026-11-02",
        ["Changes"] = "larger",
        ["words"] = "agreed",
        ["Recipients"] = "Kim Reed <kim@harbour-rowing.example>",
        ["Changes[0].Thing"] = "order",
        ["Changes[0].Words"] = "larger",
        ["XDpi"] = "300",
        ["YDpi"] = "300",
        ["ImageFromPalletEdgeMm"] = "80",
        ["InnerWidthMm"] = "400",
        ["InnerHeightMm"] = "500",
        ["LargestWidthMm"] = "330",
        ["Lines[0].Ground"] = "tee/white",
        ["Lines[0].Counts[0].Size"] = "M",
        ["Lines[0].Counts[0].Count"] = "12",
        ["Email"] = "kim@harbour-rowing.example",
        ["Password"] = "not my password at all",
    };

    // Buttons, ticks and choices that somebody makes.
    private readonly (string Action, string Name, string Value)[] pressed =
    [
        // Small art is read quickly.
        ("/orders", "WidthMm", "20"),
        ("/send", "Act", "send"),
        ("/settlement", "outcome", "stands"),
        ("/elsewhere", "Choice", "changes"),
        ("/confirm", "Words", "true"),
        ("/confirm", "Size", "true"),
        ("/confirm", "Garments", "true"),
        ("/confirm", "Colours", "true"),
        ("/confirm", "Means", "remark"),
    ];

    // Read and never kept: what is wrong there shows in the answer alone.
    private static readonly string[] NotKept =
    [
        "Password",
        "Email",
        "Extra",
        "Code",
        "code",
        "q",
        "Recipients",
        "Opened",
    ];

    private readonly Regex hidden = new(
        "__RequestVerificationToken|RowVersion|Seen|rowVersion",
        RegexOptions.ExplicitCapture
    );

    // Forms as last served; a form that is taken may change every other.
    private readonly Dictionary<(Visitor Who, string Path, string Action), ServedForm> fresh = [];

    private static readonly Regex RowNumber = new(@"\[\d+\]", RegexOptions.ExplicitCapture);

    // Every text of every table, asked at once.
    private string? anywhere;

    public int Posts { get; private set; }
    public int Kept { get; private set; }
    public int Refused { get; private set; }
    public SortedSet<string> Fields { get; } = new(StringComparer.Ordinal);
    public List<string> Faults { get; } = [];
    public List<KeptAnswer> Answers { get; } = [];

    public string Figures =>
        $"{Fields.Count} fields, {strings.Count} strings, {Posts} requests: {Kept} kept, {Refused} refused";

    /// <summary>Pages with forms, and who sees them.</summary>
    public async Task<List<(string Path, Visitor Who, ServedForm Form)>> FormsAsync()
    {
        var forms = new List<(string, Visitor, ServedForm)>();
        var met = new HashSet<string>(StringComparer.Ordinal);
        var stranger = server.NewVisitor();
        // Pages only: what ends like a file has no form in it.
        foreach (
            var route in server.Routes.Where(r =>
                r.Method == "GET" && !r.Path.Contains('.') && !r.Path.EndsWith("/events", StringComparison.Ordinal)
            )
        )
        {
            foreach (
                var (who, things, isStaff) in new[]
                {
                    (stranger, server.Answered, false),
                    (server.ClientOfOpen, server.Open, false),
                    (server.ClientOfAnswered, server.Answered, false),
                    (server.Staff, server.Open, true),
                    (server.Staff, server.Answered, true),
                }
            )
            {
                if (!isStaff && !route.IsOpen)
                    continue;
                var path = route.Address(things.Value) + Things.Query(route.Path);
                var page = await who.GetAsync(path);
                if (page.Status != HttpStatusCode.OK || !IsPage(page))
                    continue;
                foreach (var form in ServedForm.In(ForeignMarkup.Parse(page.Text), AnswerRules.PathOf(page)))
                {
                    if (form.Texts.Any() && met.Add(Called(route, form)))
                        forms.Add((path, who, form));
                }
            }
        }
        return forms;
    }

    /// <param name="from">the string to begin with, so that forms of a short run meet different ones</param>
    /// <param name="count">how many times the form is sent with all fields filled</param>
    /// <param name="alone">of those that are refused together, how many are sent again without the fields that were named as reasons</param>
    /// <param name="keep">answers are kept for a browser</param>
    public async Task TypeAsync(
        string path,
        Visitor who,
        ServedForm form,
        int from,
        int count,
        int again,
        bool keep = false
    )
    {
        var texts = WithoutMiddleRows(form.Texts.Select(f => f.Name)).ToList();
        foreach (var name in texts)
            Fields.Add($"{Template(form.Action)} {name}");
        // What makes something new each time is slow and fills every list; the form that changes it has the same fields.
        var makesNew = form.Action is "/orders" or "/inks" or "/presses" or "/devices" or "/frames";
        for (var k = from; k < from + count; k++)
        {
            var tried = texts.Select((name, i) => (name, Text: strings[(k + i * Step) % strings.Count])).ToList();
            var left = tried.ToDictionary(t => t.name, t => t.Text.Text);
            // An order without art is refused before anything is made of it, and quickly.
            var withFile = !makesNew || count < 40 || k % 20 == 0;
            if (!withFile && form.File is null)
                continue;
            var wrong = await SendAsync(path, who, form, left, withFile, keep);
            // Refused for some of the fields: the others once more, until they are taken.
            while (wrong.Count > 0 && withFile && k < from + again)
            {
                foreach (var name in wrong)
                    left.Remove(name);
                if (left.Count == 0)
                    break;
                wrong = await SendAsync(path, who, form, left, withFile, keep: false);
            }
        }
    }

    // Rows of a table are read alike: the first, and the last, which is the empty one for something new, stand for all.
    private static IEnumerable<string> WithoutMiddleRows(IEnumerable<string> names)
    {
        var rows = names.GroupBy(n => RowNumber.Replace(n, "[]"), StringComparer.Ordinal);
        return rows.SelectMany(row => row.Count() <= 2 ? row.AsEnumerable() : [row.First(), row.Last()]);
    }

    /// <returns>the fields that the answer gives as its reasons; the first of them where it names none; none where they were taken</returns>
    private async Task<List<string>> SendAsync(
        string path,
        Visitor who,
        ServedForm first,
        Dictionary<string, string> typed,
        bool withFile,
        bool keep
    )
    {
        if (!fresh.TryGetValue((who, path, first.Action), out var form))
        {
            var page = await who.GetAsync(path);
            form = ServedForm
                .In(ForeignMarkup.Parse(page.Text), AnswerRules.PathOf(page))
                .FirstOrDefault(f => f.Action == first.Action);
            if (form is null)
                return [];
            fresh[(who, path, first.Action)] = form;
        }
        var fields = form
            .Fields.Where(f => !f.IsFile)
            .GroupBy(f => f.Name)
            .ToDictionary(g => g.Key, g => g.Last().Value, StringComparer.Ordinal);
        foreach (var name in fields.Keys.Where(n => fields[n].Length == 0 && usual.ContainsKey(n)).ToList())
            fields[name] = usual[name];
        foreach (var (_, name, value) in pressed.Where(p => form.Action.EndsWith(p.Action, StringComparison.Ordinal)))
            fields[name] = value;
        foreach (var (name, value) in typed)
            fields[name] = value;
        if (++Posts % 40 == 0)
            await server.ForgetDraftsAsync();
        var answer = form.Posts
            ? await who.SendAsync(
                new(HttpMethod.Post, form.Action)
                {
                    Content =
                        withFile && form.File is { } file && form.Action.EndsWith("/orders", StringComparison.Ordinal)
                            ? HostileForm.WithFile(
                                fields,
                                file.Name,
                                typed.Values.First(),
                                Encoding.UTF8.GetBytes(RunningServer.SmallMark)
                            )
                            : HostileForm.Encoded(fields),
                }
            )
            : await who.GetAsync(
                form.Action.Split('?')[0] + "?" + await HostileForm.Encoded(fields).ReadAsStringAsync()
            );
        var where = $"{Template(form.Action)} {string.Join(", ", typed.Keys)}";
        Judge(where, answer, keep);
        if ((int)answer.Status is >= 400 and < 500)
        {
            Refused += typed.Count;
            // What is no text at all, half a character or NUL, is no form to the framework either, and the page says so.
            if (answer.Status == HttpStatusCode.BadRequest && !typed.Values.Any(IsNoText))
                Faults.Add($"{where}: answered 400, so the form was never read");
            else if (answer.Status != HttpStatusCode.BadRequest && !HasReason(answer))
                Faults.Add($"{where}: refused without a reason: {answer.Title}");
            return Wrong(answer, typed.Keys);
        }
        fresh.Clear();
        if (answer.Location is { } location)
        {
            var landed = await who.GetAsync(location);
            Judge(where + " -> " + Template(location), landed, keep);
            await FindAsync(where, who, path, landed, typed);
        }
        Kept += typed.Count;
        return [];
    }

    // Every reason of a page is a link to its field.
    private static List<string> Wrong(Page answer, IEnumerable<string> typed)
    {
        var named = ForeignMarkup
            .Parse(answer.Text)
            .QuerySelectorAll("[role=alert] a")
            .Select(a => a.GetAttribute("href") ?? "")
            .ToHashSet(StringComparer.Ordinal);
        var wrong = typed.Where(name => named.Contains("#" + TagBuilder.CreateSanitizedId(name, "_"))).ToList();
        return wrong.Count > 0 ? wrong : [.. typed.Take(1)];
    }

    /// <summary>A page, read as a browser does.</summary>
    public void Judge(string where, Page page, bool keep)
    {
        if ((int)page.Status >= 500)
            Faults.Add($"{where}: answered {(int)page.Status}");
        if (!IsPage(page))
            return;
        var nonce = Regex.Match(page.Headers["Content-Security-Policy"], "script-src 'nonce-([^']+)'").Groups[1].Value;
        foreach (var foreign in ForeignMarkup.In(ForeignMarkup.Parse(page.Text), nonce))
            Faults.Add($"{where}: {foreign}");
        if (keep)
            Answers.Add(new(where, page));
    }

    // A second dispute of the same decision is the first one still: its words are not kept twice.
    // What was taken is there again: on the page that follows, in the form, or in a row.
    private async Task FindAsync(string where, Visitor who, string path, Page landed, Dictionary<string, string> typed)
    {
        var shown = Shown(landed);
        string? again = null;
        foreach (
            var (name, value) in typed.Where(t =>
                !NotKept.Contains(t.Key) && !path.StartsWith("/dispute", StringComparison.Ordinal)
            )
        )
        {
            // What is bound is bound in its composed form.
            string[] read = [HostileForm.AsRead(value), HostileForm.AsLeftEscaped(value)];
            string[] readings = [.. read.Concat(read.Select(r => r.Normalize())).Distinct()];
            bool IsIn(string page) => readings.Any(r => page.Contains(Squashed(r), StringComparison.Ordinal));
            if (IsIn(shown))
                continue;
            again ??= Shown(await who.GetAsync(path));
            if (IsIn(again))
                continue;
            var found = false;
            foreach (var reading in readings)
                found |= await IsInARowAsync(reading);
            if (!found)
                Faults.Add(
                    $"{where}: {name} was taken and is nowhere: {Uri.EscapeDataString(value[..Math.Min(60, value.Length)])}"
                );
        }
    }

    private async Task<bool> IsInARowAsync(string typed)
    {
        var text = typed.Replace("\r\n", "\n", StringComparison.Ordinal).Trim();
        await using var db = server.Service<Office>().Open();
        anywhere ??=
            "SELECT "
            + string.Join(
                " OR ",
                db.Model.GetRelationalModel()
                    .Tables.Select(t =>
                        (
                            t.Name,
                            Texts: t.Columns.Where(c =>
                                    c.PropertyMappings.Any(p => p.Property.ClrType == typeof(string))
                                )
                                .Select(c => $"instr(\"{c.Name}\", {{0}}) > 0")
                                .ToList()
                        )
                    )
                    .Where(t => t.Texts.Count > 0)
                    .Select(t => $"EXISTS(SELECT 1 FROM \"{t.Name}\" WHERE {string.Join(" OR ", t.Texts)})")
            )
            + " AS \"Value\"";
        return await db.Database.SqlQueryRaw<long>(anywhere, text).SingleAsync() == 1;
    }

    private static bool IsNoText(string typed) => typed.Contains('\0') || HostileForm.AsRead(typed) != typed;

    private static bool IsPage(Page page) =>
        page.Headers.GetValueOrDefault("Content-Type", "").StartsWith("text/html", StringComparison.Ordinal);

    // 414 is the reason: such an address is not read to its end.
    private static bool HasReason(Page page) =>
        page.Status == HttpStatusCode.RequestUriTooLong
        || page.Text.Contains("role=\"alert\"", StringComparison.Ordinal)
        || page.Title is "A character that is no text" or "Nothing here"
        || page.Text.Contains("Nothing was", StringComparison.Ordinal)
        || page.Text.Contains("times already", StringComparison.Ordinal);

    /// <summary>All a reader sees of a page: its text and what stands in its fields.</summary>
    private static string Shown(Page page)
    {
        var document = ForeignMarkup.Parse(page.Text);
        var fields = ServedForm.In(document, AnswerRules.PathOf(page)).SelectMany(f => f.Fields).Select(f => f.Value);
        return Squashed(document.Body?.TextContent ?? "") + "\n" + string.Join('\n', fields.Select(Squashed));
    }

    private static string Squashed(string text) =>
        string.Join(' ', text.Split(default(char[]), StringSplitOptions.RemoveEmptyEntries));

    private string Called(ServedRoute route, ServedForm form) =>
        $"{Template(form.Action)} {string.Join(',', form.Fields.Where(f => !hidden.IsMatch(f.Name)).Select(f => f.Name).Distinct().Order(StringComparer.Ordinal).Where(_ => route.Path.Length > 0))}";

    private static string Template(string path) =>
        Regex.Replace(path.Split('?')[0], "[0-9a-f]{8}-[0-9a-f-]{27}|(?<=/r/|/welcome/)[^/]+", "{}");
}
