using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Mail;

/// <summary>
/// Reads delivery reports that a mail system or a collector puts into a folder, one .eml each, and marks the letter they are about.
/// A file is moved to "read" once its row is written, so a crash reads it again and the report's own id keeps it from counting twice.
/// What is no report goes to "other" and is not answered: it may come from a robot like us.
/// </summary>
public sealed class MailReturns(Office office, OfficeSettings settings, TimeProvider time)
{
    private const int MostBytes = 4_000_000;

    private string Folder => settings.Mail.ReturnsFolder;

    public bool Wanted => Folder.Length > 0;

    /// <summary>How many reports concerned letters of ours.</summary>
    public async Task<int> ReadAllAsync(CancellationToken cancel = default)
    {
        var concerned = 0;
        if (!Wanted || !Directory.Exists(Folder))
        {
            return concerned;
        }
        foreach (var path in Directory.GetFiles(Folder, "*.eml").Order(StringComparer.Ordinal))
        {
            var reports = await ReportsAsync(path, cancel);
            foreach (var report in reports)
            {
                concerned += await KeepAsync(report, cancel) ? 1 : 0;
            }
            Move(path, reports.Count > 0 ? "read" : "other");
        }
        return concerned;
    }

    private static async Task<IReadOnlyList<MailReport>> ReportsAsync(string path, CancellationToken cancel)
    {
        if (new FileInfo(path).Length > MostBytes)
        {
            return [];
        }
        try
        {
            return MailReport.Read(await File.ReadAllBytesAsync(path, cancel));
        }
        catch (Exception unreadable)
            when (unreadable is FormatException or InvalidOperationException or ArgumentException)
        {
            return [];
        }
    }

    private Task<bool> KeepAsync(MailReport report, CancellationToken cancel) =>
        office.WriteAsync(
            async db =>
            {
                if (await db.MailReturns.AnyAsync(row => row.ReportId == report.ReportId, cancel))
                {
                    return false;
                }
                var mail = report.MailId is { } id
                    ? await db.OutboxMails.SingleOrDefaultAsync(row => row.Id == id, cancel)
                    : null;
                // Whoever received a letter knows its id; a report about somebody else's address is not about this one.
                if (
                    mail is not null
                    && !string.Equals(mail.Recipient, report.Recipient, StringComparison.OrdinalIgnoreCase)
                )
                {
                    mail = null;
                }
                db.MailReturns.Add(
                    new MailReturn
                    {
                        ReportId = report.ReportId,
                        MailId = mail?.Id,
                        Action = report.Action,
                        Status = report.Status,
                        Diagnostic = report.Diagnostic,
                        At = time.GetUtcNow(),
                    }
                );
                if (mail is not null)
                {
                    Mark(db, mail, report);
                }
                await db.SaveChangesAsync(cancel);
                return mail is not null;
            },
            cancel
        );

    private void Mark(OfficeDb db, OutboxMail mail, MailReport report)
    {
        if (report.Action is not ("failed" or "delayed"))
        {
            return;
        }
        mail.LastReply = $"came back {report.Action}: {report.Status} {report.Diagnostic}".TrimEnd();
        if (report.Action == "failed" && mail.State is (MailState.Sent or MailState.Uncertain))
        {
            mail.State = MailState.Bounced;
            db.Note(time, "mail system", "mail came back", mail.OrderId, mail.Recipient);
        }
    }

    private void Move(string path, string to)
    {
        var folder = Directory.CreateDirectory(Path.Combine(Folder, to)).FullName;
        File.Move(path, Path.Combine(folder, Path.GetFileName(path)), overwrite: true);
        DurableFile.FlushFolder(folder);
    }
}

/// <summary>Looks into the folder once a minute.</summary>
internal sealed class MailReturnsWorker(MailReturns returns, TimeProvider time, ILogger<MailReturnsWorker> log)
    : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (returns.Wanted && !stoppingToken.IsCancellationRequested)
        {
            try
            {
                await returns.ReadAllAsync(stoppingToken);
                await Task.Delay(TimeSpan.FromMinutes(1), time, stoppingToken);
            }
            catch (OperationCanceledException)
            {
                return;
            }
            catch (Exception failure)
            {
                log.LogError(
                    failure,
                    "the folder of returned mail could not be read; it will be read again in a minute"
                );
                await Task.Delay(TimeSpan.FromMinutes(1), time, stoppingToken)
                    .ContinueWith(_ => { }, TaskScheduler.Default);
            }
        }
    }
}
