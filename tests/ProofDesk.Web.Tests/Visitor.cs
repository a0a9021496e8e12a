using System.Net;
using System.Text;
using System.Text.RegularExpressions;

namespace ProofDesk.Web.Tests;

/// <summary>A browser without script: keeps cookies, follows nothing by itself, sends forms with their hidden fields.</summary>
public sealed class Visitor : IDisposable
{
    private readonly HttpClient http;
    private readonly Action<HttpMethod, Page>? judge;

    /// <summary>For a client of another kind that is the same person.</summary>
    public CookieContainer Cookies { get; } = new();

    /// <param name="judge">looks at every answer</param>
    public Visitor(RunningServer server, Action<HttpMethod, Page>? judge = null)
    {
        this.judge = judge;
        var handler = new HttpClientHandler { AllowAutoRedirect = false, CookieContainer = Cookies };
        http = new HttpClient(handler) { BaseAddress = server.Address };
    }

    public Task<Page> GetAsync(string path) => SendAsync(new HttpRequestMessage(HttpMethod.Get, path));

    public Task<Page> HeadAsync(string path) => SendAsync(new HttpRequestMessage(HttpMethod.Head, path));

    /// <summary>Sends a form of a page: its hidden fields, changed and completed by <paramref name="fields"/>.</summary>
    /// <param name="action">where another button of the form sends it</param>
    /// <param name="form">which form of the page, counted from 0 (the staff's pages begin with the one that signs out)</param>
    public Task<Page> PostAsync(
        Page page,
        Dictionary<string, string>? fields = null,
        int form = 0,
        (string Field, string Name, string Text)? file = null,
        string? action = null
    )
    {
        var sent = page.Forms[form];
        var all = new Dictionary<string, string>(sent.Hidden);
        foreach (var (name, value) in fields ?? [])
            all[name] = value;
        var request = new HttpRequestMessage(
            HttpMethod.Post,
            action ?? (sent.Action.Length > 0 ? sent.Action : page.Path)
        );
        if (file is { } upload)
        {
            var parts = new MultipartFormDataContent();
            foreach (var (name, value) in all)
                parts.Add(new StringContent(value), name);
            parts.Add(new ByteArrayContent(Encoding.UTF8.GetBytes(upload.Text)), upload.Field, upload.Name);
            request.Content = parts;
        }
        else
        {
            request.Content = new FormUrlEncodedContent(all);
        }
        return SendAsync(request);
    }

    public async Task<Page> SendAsync(HttpRequestMessage request)
    {
        using var response = await http.SendAsync(request);
        var bytes = await response.Content.ReadAsByteArrayAsync();
        var headers = response
            .Headers.Concat(response.Content.Headers)
            .ToDictionary(h => h.Key, h => string.Join(", ", h.Value), StringComparer.OrdinalIgnoreCase);
        var page = new Page(request.RequestUri!.ToString(), response.StatusCode, bytes, headers);
        judge?.Invoke(request.Method, page);
        return page;
    }

    public void Dispose() => http.Dispose();
}

/// <summary>An answer, and the forms in it.</summary>
public sealed record Page(string Path, HttpStatusCode Status, byte[] Bytes, Dictionary<string, string> Headers)
{
    public string Text => Encoding.UTF8.GetString(Bytes);
    public string? Location => Headers.GetValueOrDefault("Location");
    public string Title =>
        WebUtility.HtmlDecode(Regex.Match(Text, "<h1>(.*?)</h1>", RegexOptions.Singleline).Groups[1].Value);

    public List<Form> Forms =>
        [
            .. Regex
                .Matches(Text, "<form[^>]*method=\"post\"[^>]*>(.*?)</form>", RegexOptions.Singleline)
                .Select(m => new Form(Attribute(m.Value[..(m.Value.IndexOf('>') + 1)], "action"), HiddenOf(m.Value))),
        ];

    private static Dictionary<string, string> HiddenOf(string form)
    {
        var hidden = new Dictionary<string, string>();
        foreach (Match input in Regex.Matches(form, "<input[^>]*type=\"hidden\"[^>]*>"))
            hidden[Attribute(input.Value, "name")] = Attribute(input.Value, "value");
        return hidden;
    }

    private static string Attribute(string tag, string name) =>
        WebUtility.HtmlDecode(Regex.Match(tag, $"{name}=\"([^\"]*)\"").Groups[1].Value);
}

public sealed record Form(string Action, Dictionary<string, string> Hidden);
