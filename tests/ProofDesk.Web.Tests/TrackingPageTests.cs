using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;

namespace ProofDesk.Web.Tests;

/// <summary>A server whose letters lie for an hour, so that a test decides when they leave.</summary>
public sealed class LyingServer : RunningServer
{
    protected override IEnumerable<string> Settings => ["--Office:UndoSeconds=3600"];
}

/// <summary>Sending with its preview and its undo, and what became of each letter.</summary>
public sealed class TrackingPageTests(LyingServer server) : IClassFixture<LyingServer>
{
    private static readonly Dictionary<string, string> Kim = new()
    {
        ["Recipients"] = "Kim Reed <kim@harbour-rowing.example>",
        ["Note"] = "The gold is new.",
    };

    [Fact]
    public async Task The_preview_is_the_letter_the_sending_is_taken_back_and_what_is_sent_again_is_followed()
    {
        var version = await server.RenderedVersionAsync("taken back in time");
        var form = await server.Staff.GetAsync($"/versions/{version}/send");

        var preview = await server.Staff.PostAsync(form, new(Kim) { ["Act"] = "preview" }, form: 1);
        var sent = await server.Staff.PostAsync(preview, new(Kim) { ["Act"] = "send" }, form: 1);
        var mail = await server.ReadAsync(db => db.OutboxMails.SingleAsync(m => m.VersionId == version));
        var stored = (await server.Service<Outbox>().TextOfAsync(mail.Id))!;
        var tracking = await server.Staff.GetAsync(sent.Location!);
        var taken = await server.Staff.PostAsync(tracking, form: Undo(tracking));
        var again = await server.Staff.GetAsync(taken.Location!);
        var late = await server.Staff.PostAsync(tracking, form: Undo(tracking));

        Assert.Equal($"/versions/{version}/tracking", sent.Location);
        var shown = WebUtility.HtmlDecode(
            Regex.Match(preview.Text, "<pre class=\"letter\">(.*?)</pre>", RegexOptions.Singleline).Groups[1].Value
        );
        Assert.Equal(
            WithoutLinkAndEnd(stored.ReplaceLineEndings("\n").TrimEnd()),
            WithoutLinkAndEnd(shown.ReplaceLineEndings("\n").TrimEnd())
        );
        Assert.Contains("<dt>Subject</dt><dd>" + WebUtility.HtmlEncode(mail.Subject), preview.Text);
        Assert.Matches("1 letter leaves in <span data-undo-seconds>35\\d\\d|3600</span> seconds", tracking.Text);
        Assert.Matches("<noscript><meta http-equiv=\"refresh\" content=\"3\\d\\d\\d\"></noscript>", tracking.Text);
        Assert.Equal($"/versions/{version}/send?taken=true", taken.Location);
        Assert.Contains("Taken back. No letter left, no link exists, and the version is as it was before.", again.Text);
        Assert.Equal(
            (0, VersionState.Frozen),
            await server.ReadAsync(async db =>
                (
                    await db.OutboxMails.CountAsync(m => m.VersionId == version),
                    await db.ProofVersions.Where(v => v.Id == version).Select(v => v.State).SingleAsync()
                )
            )
        );
        Assert.Equal($"/versions/{version}/tracking?late=true", late.Location);
        Assert.Contains("Too late to take back", (await server.Staff.GetAsync(late.Location!)).Text);

        await FollowAsync(version);
    }

    /// <summary>Sent again, each letter, opening and reminder has its line.</summary>
    private async Task FollowAsync(Guid version)
    {
        await server.Staff.PostAsync(
            await server.Staff.GetAsync($"/versions/{version}/send"),
            new(Kim) { ["Act"] = "send" },
            form: 1
        );
        await server.ReadAsync(db =>
            db.OutboxMails.Where(m => m.VersionId == version)
                .ExecuteUpdateAsync(set => set.SetProperty(m => m.NextAttemptAt, m => m.CreatedAt))
        );
        await SentAsync(version);
        var text = await server.LetterAsync(version, "invitation");
        using (var scanner = server.NewVisitor())
            await scanner.GetAsync((await scanner.GetAsync(RunningServer.LinkIn(text))).Location!);
        var page = await server.Staff.GetAsync($"/versions/{version}/tracking");
        await server.Staff.PostAsync(page, form: Form(page, "/reminder"));
        var reminded = await server.Staff.GetAsync($"/versions/{version}/tracking");
        await server.Staff.PostAsync(reminded, form: Form(reminded, "/no-reminders"));
        var stopped = await server.Staff.GetAsync($"/versions/{version}/tracking");
        var refused = await server.Staff.PostAsync(reminded, form: Form(reminded, "/reminder"));

        Assert.Contains("accepted by the mail server", page.Text);
        Assert.Matches(
            "link opened</span>\\s*<span>1 time. It may have been a scanner of the mail; opening decides nothing.",
            page.Text
        );
        Assert.Matches("Reminders: none sent\\.\\s*None leaves by itself", page.Text);
        Assert.Matches("Reminders: 1 of at most 3 sent, the last [^<]* UTC\\.", reminded.Text);
        Assert.Contains("Stopped for this address.", stopped.Text);
        Assert.EndsWith("?refused=true", refused.Location);
    }

    private async Task SentAsync(Guid version)
    {
        for (var tries = 0; tries < 100; tries++)
        {
            if (
                await server.ReadAsync(db =>
                    db.OutboxMails.AnyAsync(m => m.VersionId == version && m.State == MailState.Sent)
                )
            )
                return;
            await Task.Delay(100);
        }
        throw new TimeoutException("the letter did not leave in ten seconds");
    }

    private static int Undo(Page page) => Form(page, "/send/undo");

    private static int Form(Page page, string end) =>
        page.Forms.FindIndex(f => f.Action.EndsWith(end, StringComparison.Ordinal));

    private static string WithoutLinkAndEnd(string letter) =>
        Regex.Replace(Regex.Replace(letter, "/r/[^\n]*", "/r/LINK"), "works until [^\n]*", "works until THEN");
}
