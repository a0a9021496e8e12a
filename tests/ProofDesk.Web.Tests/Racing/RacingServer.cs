using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Mail;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Tests.Racing;

/// <summary>
/// A server whose second and every further version is frozen from the summary and the recipe of the first: a thousand orders without a
/// thousand renders. Manifest, sentences, leaf and links are each version's own; pictures and plates are not there.
/// </summary>
public sealed class RacingServer(string postgres, params string[] more) : RunningServer
{
    private Guid _first;

    protected override IEnumerable<string> Settings => [$"--Office:PostgresConnection={postgres}", .. more];

    protected override void Replace(IServiceCollection services)
    {
        var real = services.Last(service => service.ServiceType == typeof(RenderHandler)).ImplementationFactory!;
        services.AddSingleton<RenderHandler>(provider =>
            (job, progress, cancel) =>
                _first == Guid.Empty
                    ? ((RenderHandler)real(provider))(job, progress, cancel)
                    : AsTheFirstAsync(job, cancel)
        );
    }

    /// <summary>Links of so many orders that were sent, one version each.</summary>
    public async Task<IReadOnlyList<string>> SentOrdersAsync(int many)
    {
        _first = await RenderedVersionAsync("the first of many");
        var first = await ReadAsync(db =>
            db.ProofVersions.AsNoTracking()
                .AsSplitQuery()
                .Include(v => v.Order!.Prints)
                .Include(v => v.Order!.Lines)
                    .ThenInclude(line => line.Counts)
                .SingleAsync(v => v.Id == _first)
        );
        var versions = new List<Guid>();
        for (var number = 0; number < many; number++)
        {
            var order = await Service<OrderBook>().CreateAsync(Draft(first.Order!, $"order {number} of many"), "ada");
            versions.Add(await Service<RenderQueue>().AskAsync(order, first.RequestJson, "ada"));
        }
        while (await ReadAsync(db => db.ProofVersions.CountAsync(v => v.ManifestSha256 == null)) > 0)
        {
            await Task.Delay(200);
        }
        var links = new List<string>();
        for (var number = 0; number < many; number++)
        {
            // One person may cause 200 letters a day.
            links.AddRange(
                await LinksAsync(versions[number], [$"client{number}@harbour.example"], $"staff {number / 100}")
            );
        }
        return links;
    }

    /// <summary>Sends a version below the page and gives the paths of the mailed links.</summary>
    public static async Task<IReadOnlyList<string>> LinksAsync(
        RunningServer server,
        Guid version,
        IEnumerable<string> recipients,
        string actor = "ada"
    )
    {
        var sent = await server
            .Service<Adapters.Database.Sending>()
            .SendAsync(new SendRequest(version, [.. recipients.Select(to => new LinkRecipient(to))], "", actor));
        var links = new List<string>();
        foreach (var mail in Assert.IsType<SendResult.Sent>(sent).MailIds)
        {
            links.Add(Regex.Match((await server.Service<Outbox>().TextOfAsync(mail))!, "/r/[A-Za-z0-9_-]+").Value);
        }
        return links;
    }

    private Task<IReadOnlyList<string>> LinksAsync(Guid version, IEnumerable<string> recipients, string actor) =>
        LinksAsync(this, version, recipients, actor);

    private async Task<RenderOutcome> AsTheFirstAsync(RenderJob job, CancellationToken cancel)
    {
        var first = await ReadAsync(db =>
            db.ProofVersions.AsNoTracking().Include(v => v.Files).SingleAsync(v => v.Id == _first, cancel)
        );
        var texts = first.StatementTexts.Keys.ToDictionary(
            locale => locale,
            locale => StatementTexts.Write(locale, $"{job.OrderNumber}", job.VersionNumber, 2, HandOver.Dots)
        );
        var kept = first.Files.Where(file => file.Path == ProofSummary.Path || file.Role == FileRole.Recipe).ToList();
        var bound = ManifestJson.Parse(first.ManifestBytes!);
        var manifest = bound with
        {
            Plates = [],
            Files = [.. bound.Files.Where(file => kept.Exists(other => other.Path == file.Path))],
            Order = $"{job.OrderNumber}",
            Version = job.VersionNumber,
            VersionId = job.VersionId.ToString(),
            StatementTexts = texts.ToImmutableSortedDictionary(
                text => text.Key,
                text => StatementTexts.Digest(text.Value),
                StringComparer.Ordinal
            ),
        };
        var files = Service<IFileStore>();
        return new RenderOutcome.Done(
            [
                .. kept.Select(file => new RenderedFile(
                    file.Path,
                    file.Role,
                    file.MediaType,
                    () => files.Open(file.Sha256)
                )),
            ],
            _ => ManifestJson.Write(manifest),
            texts,
            first.FindingsJson
        );
    }

    private static OrderDraft Draft(Order order, string title) =>
        new(
            title,
            order.ClientId,
            null,
            null,
            "",
            [
                .. order.Prints.Select(print => new OrderPrint
                {
                    Name = print.Name,
                    ArtSha256 = print.ArtSha256,
                    ArtFileName = print.ArtFileName,
                    ArtMediaType = print.ArtMediaType,
                    Place = print.Place,
                    FromSeamUm = print.FromSeamUm,
                    FromCentreUm = print.FromCentreUm,
                    WidthUm = print.WidthUm,
                    Method = print.Method,
                    Words = print.Words,
                }),
            ],
            [
                .. order.Lines.Select(line => new OrderLine
                {
                    GarmentId = line.GarmentId,
                    ColourId = line.ColourId,
                    Counts = [.. line.Counts.Select(count => new LineCount { Size = count.Size, Count = count.Count })],
                }),
            ]
        );
}
