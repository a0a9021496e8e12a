using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Web.Tests.Api;

/// <summary>Orders through the API: the form's rules and words, every mistake at once, once however often, and only as seen.</summary>
[Collection(OneApi.Name)]
public sealed class OrderApiTests(ApiServer server)
{
    [Fact]
    public async Task An_order_is_taken_with_its_art_and_its_proof_asked_for()
    {
        var made = await server.PostAsync("/api/v1/orders", ApiServer.NewOrder("by program"));

        Assert.True(made.Status == HttpStatusCode.Created, made.Text);
        Assert.Empty(
            new SchemaCheck(server.Document).Faults(
                made.Json,
                new SchemaCheck(server.Document).Resolve("#/components/schemas/OrderAnswer")
            )
        );
        var id = made.Json.GetProperty("id").GetGuid();
        Assert.Equal($"/api/v1/orders/{id}", made.Headers["Location"]);
        var order = await server.ReadAsync(db =>
            db.Orders.AsNoTracking()
                .AsSplitQuery()
                .Include(o => o.Client)
                .Include(o => o.Prints)
                .Include(o => o.Lines)
                    .ThenInclude(l => l.Counts)
                .SingleAsync(o => o.Id == id)
        );
        Assert.Equal(("by program", "Harbour Rowing Club"), (order.Title, order.Client!.Name));
        var print = Assert.Single(order.Prints);
        Assert.Equal(
            ("LeftChest", 40_000, 85_000, 105_000, "plastisol", "OAR 10", "mark.svg"),
            (
                print.Place,
                print.WidthUm,
                print.FromSeamUm,
                print.FromCentreUm,
                print.Method,
                print.Words,
                print.ArtFileName
            )
        );
        Assert.Equal(
            ("tee", "white", 12),
            (order.Lines[0].GarmentId, order.Lines[0].ColourId, order.Lines[0].Counts[0].Count)
        );
        Assert.Contains(
            "key test Orders",
            await server.ReadAsync(db =>
                db.AuditEvents.Where(e => e.OrderId == id && e.Action == "order created")
                    .Select(e => e.Actor)
                    .ToListAsync()
            )
        );
        var version = await server.FinishedAsync(id);
        var shown = (await server.GetAsync($"/api/v1/versions/{version}")).Json;
        Assert.Equal("frozen", shown.GetProperty("state").GetString());
        Assert.Equal("key test Orders", shown.GetProperty("createdBy").GetString());
        Assert.Equal(HttpStatusCode.OK, (await server.Staff.GetAsync($"/orders/{id}")).Status);
    }

    [Fact]
    public async Task Every_mistake_comes_at_once_in_the_words_of_the_form()
    {
        var order = ApiServer.NewOrder(new string('t', 201), art: null);
        order["client"] = new { name = "", email = "nowhere" };
        order["approveBy"] = "2031-06-02";
        order["prints"] = new[]
        {
            ApiServer.Print(null, ("widthMm", 900.5), ("inkCount", 3), ("inks", new[] { "red" })),
        };
        order["lines"] = new[]
        {
            new
            {
                garment = "tee",
                colour = "plaid",
                sizes = new { M = 1 },
            },
        };

        var answer = await server.PostAsync("/api/v1/orders", order);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Equal("application/problem+json", answer.MediaType);
        Assert.Equal(
            [
                "/approveBy not-possible",
                "/client/email no-address",
                "/client/name missing",
                "/lines not-possible",
                "/prints/0/art not-possible",
                "/prints/0/inkCount not-possible",
                "/prints/0/widthMm out-of-range",
                "/title too-long",
            ],
            answer.Mistakes.Order(StringComparer.Ordinal)
        );
        var width = Mistake(answer, "/prints/0/widthMm");
        Assert.Equal(
            "The width of the inked extent is between 20 and 500 mm.",
            width.GetProperty("message").GetString()
        );
        Assert.Equal("900.5", width.GetProperty("measured").GetString());
        Assert.Equal("20 to 500", width.GetProperty("limit").GetString());
        Assert.Equal("Send a number from 20 to 500.", width.GetProperty("nextStep").GetString());
        var title = Mistake(answer, "/title");
        Assert.Equal(
            ("The title has at most 200 characters.", "201 characters", "200 characters"),
            (
                title.GetProperty("message").GetString(),
                title.GetProperty("measured").GetString(),
                title.GetProperty("limit").GetString()
            )
        );
        Assert.Equal(
            "Choose the art: PNG, JPEG, TIFF, WebP, SVG, PDF or a ZIP of layers.",
            Mistake(answer, "/prints/0/art").GetProperty("message").GetString()
        );
    }

    [Theory]
    [InlineData("{", "", "not-understood", "The body is not JSON (line 1, byte 2).")]
    [InlineData("{\"titel\":\"x\"}", "/titel", "not-understood", "There is no field titel (line 1, byte 10).")]
    [InlineData(
        "{\"prints\":[{\"widthMm\":\"40\"}]}",
        "/prints/0/widthMm",
        "not-understood",
        "The value is of another type than this field takes (line 1, byte 27)."
    )]
    [InlineData("{\"title\":\"a\\u0007b\"}", "/title", "no-text", "There is a character that is no text: U+0007.")]
    [InlineData("null", "", "missing", "The body is null.")]
    public async Task What_cannot_be_read_is_named_with_its_place(
        string body,
        string field,
        string code,
        string message
    )
    {
        var answer = await server.PostAsync("/api/v1/orders", body);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        var mistake = Assert.Single(answer.Json.GetProperty("mistakes").EnumerateArray());
        Assert.Equal(
            (field, code, message),
            (
                mistake.GetProperty("field").GetString(),
                mistake.GetProperty("code").GetString(),
                mistake.GetProperty("message").GetString()
            )
        );
    }

    [Fact]
    public async Task Art_may_come_as_a_part_of_a_form()
    {
        using var form = new MultipartFormDataContent();
        var json = JsonSerializer.Serialize(ApiServer.NewOrder("by form", art: null), JsonSerializerOptions.Web);
        form.Add(new StringContent(json, Encoding.UTF8, "application/json"), "order");
        var art = new ByteArrayContent(Encoding.UTF8.GetBytes(RunningServer.SmallMark));
        art.Headers.ContentType = new MediaTypeHeaderValue("image/svg+xml");
        form.Add(art, "art", "mark.svg");

        var made = await server.PostAsync("/api/v1/orders", form);

        Assert.True(made.Status == HttpStatusCode.Created, made.Text);
        Assert.Equal("mark.svg", made.Json.GetProperty("prints")[0].GetProperty("artFileName").GetString());
    }

    [Fact]
    public async Task Another_kind_of_body_is_415() =>
        Assert.Equal(
            HttpStatusCode.UnsupportedMediaType,
            (await server.PostAsync("/api/v1/orders", new StringContent("title=x"))).Status
        );

    [Fact]
    public async Task Art_that_covers_everything_raises_its_question_and_the_answer_makes_the_version()
    {
        var order = ApiServer.NewOrder("opaque");
        var everywhere = PictureWriter.Png(new RgbPicture(80, 60, 2));
        order["prints"] = new[]
        {
            ApiServer.Print(null, ("art", new { fileName = "all.png", base64 = Convert.ToBase64String(everywhere) })),
        };
        var made = await server.PostAsync("/api/v1/orders", order);
        Assert.True(made.Status == HttpStatusCode.Created, made.Text);
        var id = made.Json.GetProperty("id").GetGuid();
        Assert.Equal(["background"], Strings(made.Json.GetProperty("open")));

        var silent = await server.PostAsync($"/api/v1/orders/{id}/versions", null);
        Assert.Equal(["/background question-open"], silent.Mistakes);
        var wrong = await server.PostAsync($"/api/v1/orders/{id}/versions", new { background = "burn" });
        Assert.Equal(["/background not-one-of"], wrong.Mistakes);

        var asked = await server.PostAsync($"/api/v1/orders/{id}/versions", new { background = "drop" });
        Assert.True(asked.Status == HttpStatusCode.Created, asked.Text);
        Assert.Equal(1, asked.Json.GetProperty("number").GetInt32());
        Assert.Equal($"/api/v1/versions/{asked.Json.GetProperty("id").GetGuid()}", asked.Headers["Location"]);
        Assert.Equal(
            "drop",
            await server.ReadAsync(db =>
                db.OrderPrints.Where(p => p.OrderId == id).Select(p => p.Background).SingleAsync()
            )
        );
    }

    [Fact]
    public async Task A_named_request_is_carried_out_once_and_its_first_answer_given_again()
    {
        var before = await server.ReadAsync(db => db.Orders.CountAsync());
        var order = ApiServer.NewOrder("named");

        var first = await server.PostAsync("/api/v1/orders", order, KeyScope.Orders, "Idempotency-Key", "import 17");
        var again = await server.PostAsync("/api/v1/orders", order, KeyScope.Orders, "Idempotency-Key", "import 17");
        order["title"] = "another";
        var other = await server.PostAsync("/api/v1/orders", order, KeyScope.Orders, "Idempotency-Key", "import 17");

        Assert.Equal(HttpStatusCode.Created, first.Status);
        Assert.Equal((HttpStatusCode.Created, first.Text), (again.Status, again.Text));
        Assert.Equal(first.Headers["Location"], again.Headers["Location"]);
        Assert.Equal(first.Headers["ETag"], again.Headers["ETag"]);
        Assert.Equal("true", again.Headers["Idempotency-Replayed"]);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, other.Status);
        Assert.Contains("Another request was sent under this Idempotency-Key.", other.Text);
        Assert.Equal(before + 1, await server.ReadAsync(db => db.Orders.CountAsync()));
    }

    [Fact]
    public async Task Of_many_alike_at_once_one_makes_the_order()
    {
        var order = ApiServer.NewOrder("at once");

        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 6)
                .Select(_ => server.PostAsync("/api/v1/orders", order, KeyScope.Orders, "Idempotency-Key", "at once"))
        );

        Assert.All(answers, a => Assert.Contains(a.Status, new[] { HttpStatusCode.Created, HttpStatusCode.Conflict }));
        Assert.Equal(1, await server.ReadAsync(db => db.Orders.CountAsync(o => o.Title == "at once")));
    }

    [Fact]
    public async Task What_was_refused_may_be_mended_under_the_same_name()
    {
        var order = ApiServer.NewOrder("");
        var refused = await server.PostAsync("/api/v1/orders", order, KeyScope.Orders, "Idempotency-Key", "mended");
        order["title"] = "mended";
        var made = await server.PostAsync("/api/v1/orders", order, KeyScope.Orders, "Idempotency-Key", "mended");

        Assert.Equal(["/title missing"], refused.Mistakes);
        Assert.Equal(HttpStatusCode.Created, made.Status);
    }

    [Fact]
    public async Task An_order_is_changed_only_as_it_was_seen()
    {
        var made = await server.PostAsync("/api/v1/orders", ApiServer.NewOrder("to change"));
        var path = made.Headers["Location"];
        await server.FinishedAsync(made.Json.GetProperty("id").GetGuid());
        var seen = await server.GetAsync(path);
        var change = ApiServer.NewOrder("changed", art: null);
        change.Remove("client");
        Task<Answer> Put(params string[] headers) =>
            server.AskAsync(server.Keys[KeyScope.Orders], HttpMethod.Put, path, change, headers);

        var silent = await Put();
        var stale = await Put("If-Match", made.Headers["ETag"]);
        var done = await Put("If-Match", seen.Headers["ETag"]);
        var twice = await Put("If-Match", seen.Headers["ETag"]);

        Assert.Equal(HttpStatusCode.PreconditionRequired, silent.Status);
        Assert.Equal(HttpStatusCode.PreconditionFailed, stale.Status);
        Assert.True(done.Status == HttpStatusCode.OK, done.Text);
        Assert.Equal("changed", done.Json.GetProperty("title").GetString());
        Assert.Equal("Harbour Rowing Club", done.Json.GetProperty("client").GetProperty("name").GetString());
        Assert.Equal("mark.svg", done.Json.GetProperty("prints")[0].GetProperty("artFileName").GetString());
        Assert.Equal(HttpStatusCode.PreconditionFailed, twice.Status);
        var unchanged = await server.AskAsync(
            server.Keys[KeyScope.Reading],
            HttpMethod.Get,
            "/api/v1/methods",
            null,
            "If-None-Match",
            (await server.GetAsync("/api/v1/methods")).Headers["ETag"]
        );
        Assert.Equal((HttpStatusCode.NotModified, 0), (unchanged.Status, unchanged.Bytes.Length));
    }

    [Fact]
    public async Task The_list_is_turned_over_page_by_page_and_narrowed_like_the_desk()
    {
        foreach (var day in new[] { "2032-03-04", "2032-03-02", "2032-03-03", "2032-03-03" })
        {
            var order = ApiServer.NewOrder($"paged {day}");
            order["inHands"] = day;
            Assert.Equal(HttpStatusCode.Created, (await server.PostAsync("/api/v1/orders", order)).Status);
        }
        var titles = new List<string>();
        var pages = 0;
        for (
            string? next = "/api/v1/orders?find=PAGED&from=2032-03-02&to=2032-03-04&limit=2";
            next is not null && pages < 5;
            pages++
        )
        {
            var page = await server.GetAsync(next, KeyScope.Reading);
            Assert.True(page.Status == HttpStatusCode.OK, page.Text);
            titles.AddRange(
                page.Json.GetProperty("orders").EnumerateArray().Select(o => o.GetProperty("title").GetString()!)
            );
            next = page.Json.GetProperty("next").GetString();
        }

        Assert.Equal(2, pages);
        Assert.Equal(["paged 2032-03-02", "paged 2032-03-03", "paged 2032-03-03", "paged 2032-03-04"], titles);
        var wrong = await server.GetAsync("/api/v1/orders?state=lost&from=1.3.2032&cursor=!&limit=201");
        Assert.Equal(
            [
                "/state state-not-understood",
                "/from from-not-understood",
                "/cursor cursor-not-understood",
                "/limit limit-not-understood",
            ],
            wrong.Mistakes
        );
        var burn = (await server.GetAsync("/api/v1/orders?state=ready-to-burn&find=by+hand")).Json;
        Assert.Equal(server.Order, burn.GetProperty("orders")[0].GetProperty("id").GetGuid());
    }

    [Fact]
    public async Task Addresses_of_clients_are_for_keys_that_send()
    {
        var reading = await server.GetAsync($"/api/v1/orders/{server.Order}", KeyScope.Reading);
        var sending = await server.GetAsync($"/api/v1/orders/{server.Order}");

        Assert.DoesNotContain("kim@harbour-rowing.example", reading.Text);
        Assert.Equal("kim@harbour-rowing.example", sending.Json.GetProperty("client").GetProperty("email").GetString());
    }

    [Fact]
    public async Task A_key_makes_sixty_things_a_minute_and_then_waits()
    {
        var secret = await server.KeyAsync("busy", KeyScope.Orders);
        var statuses = new List<int>();
        for (var i = 0; i < 61; i++)
            statuses.Add((int)(await server.AskAsync(secret, HttpMethod.Post, "/api/v1/orders", "{")).Status);

        Assert.Equal(422, statuses[0]);
        // A minute may end in between; then the last ones count anew.
        Assert.True(statuses[^1] == 429 || statuses.Contains(429) || statuses.Count(s => s == 422) == 61);
        Assert.All(statuses, status => Assert.Contains(status, new[] { 422, 429 }));
    }

    private static JsonElement Mistake(Answer answer, string field) =>
        answer.Json.GetProperty("mistakes").EnumerateArray().Single(m => m.GetProperty("field").GetString() == field);

    private static IEnumerable<string> Strings(JsonElement list) =>
        list.EnumerateArray().Select(item => item.GetString()!);
}
