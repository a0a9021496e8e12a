using System.Collections;
using System.Globalization;
using System.IO.Compression;
using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Renders;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Packets;
using ProofDesk.Web.Reviews;

namespace ProofDesk.Web.Tests;

/// <summary>The client's pages without a browser: languages, dates, pictures, and what the steps hold together.</summary>
[Collection(OneServer.Name)]
public sealed class ClientPageTests(RunningServer server)
{
    [Fact]
    public void Every_text_exists_in_English_and_in_Spanish_with_the_same_places()
    {
        var english = Texts("");
        var spanish = Texts("es");

        Assert.Equal(english.Keys.Order(StringComparer.Ordinal), spanish.Keys.Order(StringComparer.Ordinal));
        Assert.True(english.Count > 200, $"{english.Count} texts");
        foreach (var (key, text) in english)
        {
            Assert.NotEqual("", spanish[key].Trim());
            Assert.Equal(Places(text), Places(spanish[key]));
        }
    }

    [Fact]
    public void Every_sentence_to_sign_is_there_in_each_language_and_differs()
    {
        var texts = StatementTexts
            .Locales.Select(l => StatementTexts.Write(l, "1001 Regatta", 2, 4, Approvals.Manifests.HandOver.Dots))
            .ToList();

        Assert.Equal(["en", "de", "es"], StatementTexts.Locales);
        Assert.Equal(3, texts.Distinct().Count());
        Assert.Contains("He visto el pedido 1001 Regatta, versión 2.", texts[2]);
        Assert.All(texts, t => Assert.Equal(texts[0].Split('\n').Length, t.Split('\n').Length));
    }

    [Theory]
    [InlineData(null, "", "es-MX,es;q=0.9", "es", "es")]
    [InlineData(null, "", "fr,en;q=0.5", "en", "en")]
    [InlineData(null, "en", "es", "en", "en")]
    [InlineData(null, "de", "es", "es", "de")]
    [InlineData("es", "en", "en", "es", "es")]
    [InlineData(null, null, "", "en", "en")]
    public void The_language_is_the_chosen_one_then_the_links_then_the_browsers(
        string? chosen,
        string? ofLink,
        string browser,
        string page,
        string statement
    )
    {
        var asked = browser.Split(',').Select(part => part.Split(';')[0]);

        Assert.Equal(new ReviewLanguage(page, statement), ReviewLanguage.Pick(chosen, ofLink, asked));
    }

    [Fact]
    public void A_day_ends_in_the_shops_zone()
    {
        var zone = ReviewDates.Zone("Europe/Madrid");

        var winter = ReviewDates.EndOf(new(2026, 12, 1), zone);
        var summer = ReviewDates.EndOf(new(2026, 7, 1), zone);

        Assert.Equal(new DateTimeOffset(2026, 12, 1, 22, 59, 0, TimeSpan.Zero), winter);
        Assert.Equal(new DateTimeOffset(2026, 7, 1, 21, 59, 0, TimeSpan.Zero), summer);
        Assert.Equal("Tue 1 Dec 2026, 23:59 (Europe/Madrid)", ReviewDates.Moment(winter, zone));
        Assert.Equal(TimeZoneInfo.Utc, ReviewDates.Zone("Nowhere/Land"));
    }

    [Theory]
    [InlineData("OAR 10", "1: one, 0: zero")]
    [InlineData("CLUB 1O0", "1: one, O: letter O, 0: zero")]
    [InlineData("ROWING", "")]
    [InlineData("Ilves", "I: capital i, l: small L")]
    [InlineData("IlI", "I: capital i, l: small L")]
    [InlineData("2027", "")]
    public void Signs_that_are_taken_for_others_are_named_where_they_meet(string word, string said) =>
        Assert.Equal(said, ReviewWords.LookAlikes(word));

    [Fact]
    public async Task Dates_stand_with_their_zone_and_as_a_moment_a_machine_reads()
    {
        var (client, review, _) = await server.InvitedClientAsync(
            "dated",
            new() { ["ApproveBy"] = "2027-03-05", ["InHands"] = "2027-03-19" }
        );

        var look = await client.GetAsync(review);

        Assert.Contains(
            "<time datetime=\"2027-03-05T23:59:00Z\" data-moment>Fri 5 Mar 2027, 23:59 UTC</time>",
            look.Text
        );
        Assert.Contains("<time datetime=\"2027-03-19\">Fri 19 Mar 2027</time>", look.Text);
        client.Dispose();
    }

    [Fact]
    public async Task What_is_signed_is_what_was_shown_in_the_language_it_was_shown_in()
    {
        var (client, review, version) = await server.InvitedClientAsync("in Spanish");
        await client.GetAsync(review + "?lang=es");

        var lastLook = await RunningServer.LastLookAsync(client, review);
        var decided = await client.PostAsync(lastLook);
        var receipt = await client.GetAsync(decided.Location!);

        Assert.Equal("Una última mirada", lastLook.Title);
        Assert.Contains("<html lang=\"es\">", lastLook.Text);
        Assert.Contains("He visto el pedido", lastLook.Text);
        Assert.Equal("Aprobado. Gracias.", receipt.Title);
        var row = await server.ReadAsync(db => db.Decisions.AsNoTracking().SingleAsync(d => d.VersionId == version));
        Assert.StartsWith("He visto el pedido", row.StatementText, StringComparison.Ordinal);
        Assert.Equal("es", StatementJson.Parse(row.StatementBytes).Locale);
        Assert.Equal(StatementTexts.Digest(row.StatementText), StatementJson.Parse(row.StatementBytes).StatementText);
        client.Dispose();
    }

    [Fact]
    public async Task Sentences_that_nobody_was_shown_are_not_signed()
    {
        var (client, review, version) = await server.InvitedClientAsync("made-up language");
        var lastLook = await RunningServer.LastLookAsync(client, review);

        var refused = await client.PostAsync(lastLook, new() { ["Locale"] = "fr" });

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains(
            "The sentences you were shown are not of this version. They are shown again below, and nothing was decided.",
            refused.Text
        );
        Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        client.Dispose();
    }

    [Fact]
    public async Task Going_back_and_changing_the_language_lose_no_tick()
    {
        var (client, review, _) = await server.InvitedClientAsync("back and forth");
        var lastLook = await RunningServer.LastLookAsync(
            client,
            review,
            new() { ["Comment"] = "thank you", ["Means"] = "remark" }
        );

        var back = await client.PostAsync(lastLook, new() { ["Back"] = "true" }, action: review + "/confirm");
        var spanish = await client.PostAsync(lastLook, [], action: review + "/confirm?lang=es");

        Assert.Equal("Four things to check", back.Title);
        Assert.Equal(4, Regex.Count(back.Text, "type=\"checkbox\"[^>]*checked=\"checked\""));
        Assert.Contains("value=\"Kim Reed\"", back.Text);
        Assert.Contains(">thank you</textarea>", back.Text);
        Assert.Equal("Una última mirada", spanish.Title);
        Assert.Equal("es", spanish.Forms[^1].Hidden["Locale"]);
        client.Dispose();
    }

    [Fact]
    public async Task A_press_on_the_picture_comes_back_as_millimetres_and_is_recorded()
    {
        var (client, review, version) = await server.InvitedClientAsync("pointed at");
        var form = await client.GetAsync(review + "/changes");

        var pressed = await client.PostAsync(
            form,
            new()
            {
                ["Spots[0].Tap.x"] = "0",
                ["Spots[0].Tap.y"] = "0",
                ["Changes[0].Words"] = "kept",
            }
        );
        var right = Value(pressed, "Spots[0].Right");
        var lastLook = await client.PostAsync(
            pressed,
            new()
            {
                ["Spots[0].Right"] = right,
                ["Spots[0].Down"] = "12,5",
                ["Spots[0].Words"] = "a stray dot",
                ["Changes[0].Words"] = "kept",
                ["Name"] = "Kim Reed",
            }
        );
        var decided = await client.PostAsync(lastLook);

        Assert.Equal("What should change?", pressed.Title);
        Assert.Contains(">kept</textarea>", pressed.Text);
        // The print is 40 mm wide; the picture begins a margin to the left of it.
        Assert.InRange(double.Parse(right, CultureInfo.InvariantCulture), -40, -20);
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        var said = KeptStatement.Of(
            await server.ReadAsync(db => db.Decisions.AsNoTracking().SingleAsync(d => d.VersionId == version))
        );
        Assert.Equal(2, said.Changes.Length);
        Assert.Equal(
            $"spot: left chest, {right.TrimStart('-')} mm left of the centre line as pictured, 12.5 mm below the top",
            said.Changes[1].Thing
        );
        client.Dispose();
    }

    [Fact]
    public async Task A_spot_without_its_place_and_a_place_without_words_are_said()
    {
        var (client, review, _) = await server.InvitedClientAsync("half a spot");
        var form = await client.GetAsync(review + "/changes");
        Dictionary<string, string> Fields(string right, string words) =>
            new()
            {
                ["Spots[0].Right"] = right,
                ["Spots[0].Down"] = "",
                ["Spots[0].Words"] = words,
                ["Changes[0].Words"] = "kept",
                ["Name"] = "Kim Reed",
            };

        var placeless = await client.PostAsync(form, Fields("there", "a stray dot"));
        var wordless = await client.PostAsync(form, Fields("3", ""));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, placeless.Status);
        Assert.Contains(
            "Say where the spot is in millimetres, such as -35 or 12.5, or press the picture.",
            placeless.Text
        );
        Assert.Contains("Say what should change at the spot, or empty its two fields.", wordless.Text);
        client.Dispose();
    }

    [Fact]
    public async Task Every_line_of_names_and_numbers_is_ticked_by_itself_before_anything_is_signed()
    {
        var (client, review, version) = await server.InvitedClientAsync(
            "with names",
            new() { ["Method"] = "vinyl", ["Roster"] = "name,number\nREED,07\nSTRAND,10" }
        );
        var form = await client.GetAsync(review + "/approve");
        var oneLine = new Dictionary<string, string>(RunningServer.AllTicked) { ["Roster"] = "1" };

        var refused = await client.PostAsync(form, oneLine);
        var lastLook = await TickedAsync(client, form, review + "/confirm", 0, 1);
        var cut = await TickedAsync(client, lastLook, review + "/decision", 1);
        var decided = await TickedAsync(client, lastLook, review + "/decision", 0, 1);

        Assert.Contains("07 REED", form.Text);
        Assert.Equal("Five things to check", form.Title);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
        Assert.Contains("Tick every line of names and numbers: 1 are open, the first is line 1.", refused.Text);
        Assert.Equal("A last look", lastLook.Title);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, cut.Status);
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        Assert.Equal(1, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        await IsMadeAgainAsync((await client.GetAsync(decided.Location + "/packet.zip")).Bytes);
        client.Dispose();
    }

    /// <summary>The list is bound with the version: its pictures and pieces follow from the packet alone.</summary>
    private async Task IsMadeAgainAsync(byte[] packet)
    {
        using var zip = new ZipArchive(new MemoryStream(packet));
        var verdict = PacketVerifier.Verify(new MemoryStream(packet), VerifyOptions.Nothing);
        Assert.DoesNotContain(verdict.Steps, s => s.Outcome == StepOutcome.Failed);
        Assert.Contains(verdict.Manifest!.Files, f => f.Path == "left-chest/roster.png");

        var report = await new Rerender(server.Service<ArtDecoder>(), _ => null).OfAsync(
            verdict.Manifest,
            file => zip.GetEntry($"data/files/{file.Path}")!.Open(),
            new Progress<FileComparison>(),
            CancellationToken.None
        );

        Assert.True(report.IsEqual, string.Join('\n', report.Files.Where(f => !f.IsSame)));
        Assert.Contains(report.Files, f => f.Path == "left-chest/roster.png");
    }

    [Fact]
    public async Task The_loupe_and_the_art_are_shown_to_who_holds_the_link_and_films_are_not()
    {
        var (client, review, _) = await server.InvitedClientAsync("close up");
        using var stranger = server.NewVisitor();
        var query = "?print=left-chest&ground=tee%2Fwhite&x=10&y=10";

        var loupe = await client.GetAsync(review + "/loupe.png" + query);
        var withFilm = await client.GetAsync(review + "/loupe.png" + query + "&film=1&mm=12");
        var art = await client.GetAsync(review + "/art.png" + query);
        var look = await client.GetAsync(review);
        var small = Regex.Match(look.Text, "/f/[0-9a-f]{64}/w320/[^ \"]+\\.webp").Value;

        Assert.Equal(HttpStatusCode.OK, loupe.Status);
        // What would show a film is no part of the address: the answer is the print.
        Assert.Equal(loupe.Bytes, withFilm.Bytes);
        Assert.Equal("image/png", art.Headers["Content-Type"]);
        Assert.Equal("image/webp", (await client.GetAsync(small)).Headers["Content-Type"]);
        foreach (var path in new[] { review + "/loupe.png" + query, review + "/art.png" + query, small })
            Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync(path)).Status);
        Assert.Equal(
            HttpStatusCode.NotFound,
            (await client.GetAsync(review + "/loupe.png?print=back&ground=tee%2Fwhite&x=1&y=1")).Status
        );
        client.Dispose();
    }

    // One name many times, as a browser sends ticked boxes.
    private static Task<Page> TickedAsync(Visitor client, Page page, string action, params int[] lines) =>
        client.SendAsync(
            new HttpRequestMessage(HttpMethod.Post, action)
            {
                Content = new FormUrlEncodedContent([
                    .. page.Forms[0].Hidden.Where(h => h.Key != "Roster"),
                    .. RunningServer.AllTicked,
                    .. lines.Select(line => KeyValuePair.Create("Roster", $"{line}")),
                ]),
            }
        );

    private static string Value(Page page, string name) =>
        Regex.Match(page.Text, $"name=\"{Regex.Escape(name)}\"[^>]*value=\"([^\"]*)\"").Groups[1].Value;

    private static Dictionary<string, string> Texts(string language) =>
        ReviewText
            .Texts.GetResourceSet(CultureInfo.GetCultureInfo(language), createIfNotExists: true, tryParents: false)!
            .Cast<DictionaryEntry>()
            .ToDictionary(e => (string)e.Key, e => (string)e.Value!);

    private static string Places(string text) =>
        string.Join(' ', Regex.Matches(text, "\\{[0-9]").Select(m => m.Value).Order(StringComparer.Ordinal));
}
