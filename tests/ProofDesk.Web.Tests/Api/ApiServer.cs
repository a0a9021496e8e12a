using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Tests.Api;

/// <summary>A server with one approved order, one that is open, and a key of each scope.</summary>
public sealed class ApiServer : RunningServer
{
    public Dictionary<KeyScope, string> Keys { get; } = [];
    public Guid Version { get; private set; }
    public Guid Order { get; private set; }
    public Guid Decision { get; private set; }

    /// <summary>What the server says of itself.</summary>
    public JsonElement Document { get; private set; }

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        foreach (var scope in Enum.GetValues<KeyScope>())
            Keys[scope] = await KeyAsync($"test {scope}", scope);
        var (client, review, version) = await InvitedClientAsync("by hand", new() { ["InHands"] = "2031-05-02" });
        var decided = await client.PostAsync(await LastLookAsync(client, review));
        client.Dispose();
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        Version = version;
        Order = (await OrderOfAsync(version)).Id;
        Decision = Guid.Parse(decided.Location!.Split('/')[^1]);
        Document = (await AskAsync(null, HttpMethod.Get, "/api/v1/openapi.json")).Json;
    }

    public async Task<string> KeyAsync(string name, KeyScope scope)
    {
        var wish = new KeyWish(name, scope, "test", DateTimeOffset.UtcNow.AddDays(1));
        return Assert.IsType<KeyMade.Done>(await Service<ApiKeys>().MakeAsync(wish, "test")).Secret;
    }

    public Task<Answer> GetAsync(string path, KeyScope scope = KeyScope.Orders) =>
        AskAsync(Keys[scope], HttpMethod.Get, path);

    public Task<Answer> PostAsync(
        string path,
        object? body,
        KeyScope scope = KeyScope.Orders,
        params string[] headers
    ) => AskAsync(Keys[scope], HttpMethod.Post, path, body, headers);

    /// <param name="headers">name, value, name, value</param>
    public async Task<Answer> AskAsync(
        string? key,
        HttpMethod method,
        string path,
        object? body = null,
        params string[] headers
    )
    {
        using var http = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = Address };
        using var request = new HttpRequestMessage(method, path);
        if (key is not null)
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        for (var i = 0; i < headers.Length; i += 2)
            request.Headers.TryAddWithoutValidation(headers[i], headers[i + 1]);
        request.Content = body switch
        {
            null => null,
            HttpContent content => content,
            string text => new StringContent(text, Encoding.UTF8, "application/json"),
            _ => new StringContent(
                JsonSerializer.Serialize(body, JsonSerializerOptions.Web),
                Encoding.UTF8,
                "application/json"
            ),
        };
        using var response = await http.SendAsync(request);
        return new Answer(
            response.StatusCode,
            await response.Content.ReadAsByteArrayAsync(),
            response.Content.Headers.ContentType?.MediaType ?? "",
            response
                .Headers.Concat(response.Content.Headers)
                .ToDictionary(h => h.Key, h => string.Join(", ", h.Value), StringComparer.OrdinalIgnoreCase)
        );
    }

    /// <summary>A whole order as JSON, some of it written over.</summary>
    public static Dictionary<string, object?> NewOrder(string title, string? art = SmallMark) =>
        new()
        {
            ["title"] = title,
            ["client"] = new { name = "Harbour Rowing Club", email = "kim@harbour-rowing.example" },
            ["inHands"] = "2031-06-01",
            ["prints"] = new[] { Print(art) },
            ["lines"] = new[]
            {
                new
                {
                    garment = "tee",
                    colour = "white",
                    sizes = new Dictionary<string, int> { ["M"] = 12 },
                },
            },
        };

    public static Dictionary<string, object?> Print(string? art, params (string Name, object? Value)[] more)
    {
        var print = new Dictionary<string, object?>
        {
            ["place"] = "left-chest",
            ["widthMm"] = 40,
            ["fromSeamMm"] = 85,
            ["fromCentreMm"] = 105,
            ["words"] = new[] { "OAR 10" },
        };
        if (art is not null)
            print["art"] = new { fileName = "mark.svg", base64 = Convert.ToBase64String(Encoding.UTF8.GetBytes(art)) };
        foreach (var (name, value) in more)
            print[name] = value;
        return print;
    }
}

public sealed record Answer(
    HttpStatusCode Status,
    byte[] Bytes,
    string MediaType,
    IReadOnlyDictionary<string, string> Headers
)
{
    public string Text => Encoding.UTF8.GetString(Bytes);
    public JsonElement Json => JsonSerializer.Deserialize<JsonElement>(Bytes);

    /// <summary>Each mistake as "field code".</summary>
    public IEnumerable<string> Mistakes =>
        Json.GetProperty("mistakes")
            .EnumerateArray()
            .Select(m => $"{m.GetProperty("field").GetString()} {m.GetProperty("code").GetString()}");
}

[CollectionDefinition(Name)]
public sealed class OneApi : ICollectionFixture<ApiServer>
{
    public const string Name = "one api";
}
