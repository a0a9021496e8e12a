using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Tests.Inventory;

namespace ProofDesk.Web.Tests.Api;

/// <summary>The document says what the server does: every route, and of every answer its shape.</summary>
[Collection(OneApi.Name)]
public sealed class DocumentTests(ApiServer server)
{
    private const string Here = "/api/v1/openapi.json";

    [Fact]
    public void Every_route_of_the_api_is_in_the_document_and_no_other()
    {
        var served = ServedRoute
            .Of(server.Service<EndpointDataSource>())
            .Where(r => r.Path.StartsWith("/api/", StringComparison.Ordinal) && r.Path != Here)
            .Select(r => r.Name);

        var written = Acts().Select(act => $"{act.Method.ToUpperInvariant()} {act.Path}");

        Assert.Equal(served.Order(StringComparer.Ordinal), written.Order(StringComparer.Ordinal));
        Assert.StartsWith("3.1", server.Document.GetProperty("openapi").GetString());
    }

    [Fact]
    public void Every_act_says_what_it_does_what_it_needs_and_what_may_go_wrong()
    {
        var key = Assert.Single(
            server.Document.GetProperty("components").GetProperty("securitySchemes").EnumerateObject()
        );
        Assert.Equal("bearer", key.Value.GetProperty("scheme").GetString());
        Assert.True(server.Document.GetProperty("security")[0].TryGetProperty(key.Name, out _));
        var tags = server.Document.GetProperty("tags").EnumerateArray().Select(t => t.GetProperty("name").GetString());
        foreach (var (path, method, act) in Acts())
        {
            var name = $"{method} {path}";
            Assert.True(act.GetProperty("summary").GetString()!.Length > 5, name);
            Assert.Contains(act.GetProperty("tags")[0].GetString(), tags);
            var answers = act.GetProperty("responses");
            foreach (var status in new[] { "401", "404", "422", "429", "503" })
                Assert.True(
                    answers
                        .GetProperty(status)
                        .GetProperty("content")
                        .TryGetProperty("application/problem+json", out _),
                    $"{name} {status}"
                );
            foreach (var parameter in act.TryGetProperty("parameters", out var all) ? all.EnumerateArray() : [])
                Assert.True(
                    parameter.GetProperty("in").GetString() == "path" || parameter.TryGetProperty("description", out _),
                    $"{name} {parameter.GetProperty("name")}"
                );
        }
        Assert.Equal(Acts().Count, Acts().Select(a => a.Act.GetProperty("operationId").GetString()).Distinct().Count());
    }

    [Fact]
    public async Task Every_answer_that_can_be_read_is_as_its_schema_says()
    {
        var check = new SchemaCheck(server.Document);
        var faults = new List<string>();
        var read = 0;
        foreach (var (path, method, act) in Acts().Where(a => a.Method == "get"))
        {
            var address =
                path.Replace("/records/{id}", $"/records/{server.Decision}")
                    .Replace("/orders/{id}", $"/orders/{server.Order}")
                    .Replace("{id}", server.Version.ToString())
                    .Replace("{sha256}", await PictureAsync())
                + (path.EndsWith("/costs", StringComparison.Ordinal) ? "?pieces=1,48" : "");
            var answer = await server.GetAsync(address);
            Assert.True(answer.Status == HttpStatusCode.OK, $"{address} answered {(int)answer.Status} {answer.Text}");
            var content = act.GetProperty("responses").GetProperty("200").GetProperty("content");
            if (!content.TryGetProperty(answer.MediaType, out var type))
                faults.Add($"{address} gives {answer.MediaType}, which is not written down");
            else if (type.TryGetProperty("schema", out var schema))
            {
                faults.AddRange(check.Faults(answer.Json, schema).Select(fault => $"{address} {fault}"));
                Assert.StartsWith("\"", answer.Headers["ETag"]);
                read++;
            }
        }

        Assert.Empty(faults);
        Assert.True(read >= 12, $"{read} answers read");
    }

    [Fact]
    public async Task A_problem_is_as_its_schema_says()
    {
        var check = new SchemaCheck(server.Document);
        var schema = check.Resolve("#/components/schemas/ApiProblem");
        foreach (
            var answer in new[]
            {
                await server.GetAsync("/api/v1/orders?limit=0&state=lost"),
                await server.GetAsync($"/api/v1/orders/{Guid.NewGuid()}"),
                await server.AskAsync(null, HttpMethod.Get, "/api/v1/orders"),
                await server.AskAsync(null, HttpMethod.Delete, "/api/v1/orders"),
                await server.PostAsync("/api/v1/orders", "{}"),
            }
        )
        {
            Assert.Equal("application/problem+json", answer.MediaType);
            Assert.Empty(check.Faults(answer.Json, schema));
            Assert.Equal((int)answer.Status, answer.Json.GetProperty("status").GetInt32());
        }
    }

    [Fact]
    public void A_wrong_answer_is_found()
    {
        var check = new SchemaCheck(server.Document);
        var schema = check.Resolve("#/components/schemas/OrderList");

        var faults = check.Faults(
            JsonSerializer.Deserialize<JsonElement>("""{"orders":[{"id":7}],"more":true}"""),
            schema
        );

        Assert.Contains(
            "/orders/0: title is missing".Replace("title", "\"title\""),
            faults.Select(f => f.Replace("title is", "\"title\" is"))
        );
        Assert.Contains("/orders/0/id: Number is not string", faults);
        Assert.Contains(": more is in no schema", faults);
    }

    [Fact]
    public async Task People_read_the_same_document_in_the_desk()
    {
        var page = await server.Staff.GetAsync("/keys/api");

        Assert.Equal(HttpStatusCode.OK, page.Status);
        var text = WebUtility.HtmlDecode(page.Text);
        foreach (var (path, method, act) in Acts())
        {
            Assert.Contains($"<strong>{method.ToUpperInvariant()}</strong> <code>{path}</code>", text);
            Assert.Contains(act.GetProperty("summary").GetString()!, text);
        }
        foreach (var link in Regex.Matches(page.Text, "href=\"#([^\"]+)\"").Select(m => m.Groups[1].Value).Distinct())
            Assert.Contains($"id=\"{link}\"", page.Text);
    }

    private List<(string Path, string Method, JsonElement Act)> Acts() =>
        [
            .. server
                .Document.GetProperty("paths")
                .EnumerateObject()
                .SelectMany(path => path.Value.EnumerateObject().Select(act => (path.Name, act.Name, act.Value))),
        ];

    private async Task<string> PictureAsync()
    {
        var version = (await server.GetAsync($"/api/v1/versions/{server.Version}")).Json;
        return version
            .GetProperty("prints")[0]
            .GetProperty("grounds")[0]
            .GetProperty("pictures")
            .GetProperty("print")
            .GetString()!
            .Split('/')[^1];
    }
}
