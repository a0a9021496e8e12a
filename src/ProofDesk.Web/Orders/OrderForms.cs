using System.Text;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Adapters.Renders;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Web.Devices;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Presses;
using ProofDesk.Web.Security;
using ProofDesk.Web.Shop;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

/// <param name="IsOpaque">No pixel lets the cloth through.</param>
/// <param name="HasWords">Text stands in it as text.</param>
public sealed record UploadedArt(
    string Sha256,
    string FileName,
    string MediaType,
    bool IsOpaque = false,
    bool HasWords = false
);

/// <summary>Between the form and the order: stores the art, checks what lists say, makes the draft.</summary>
public sealed class OrderForms(
    KeptArt kept,
    Artworks artworks,
    Garments garments,
    ShopInks shopInks,
    ShopPresses presses,
    ShopDevices devices
)
{
    /// <summary>
    /// Stores the file before anything reads it; reading happens in a child process and says in words what is wrong.
    /// </summary>
    public async Task<UploadedArt?> StoreArtAsync(
        OrderForm form,
        ModelStateDictionary state,
        CancellationToken cancel
    ) =>
        await kept.TakeAsync(form, state, cancel) is { } art
            ? await ReadArtAsync(art.Sha256, art.FileName, form, state, cancel)
            : null;

    /// <summary>The form has art of its own: a file, or what an earlier try left here.</summary>
    public bool BringsArt(OrderForm form) => form.Art is not null || kept.Of(form.KeptArt) is not null;

    /// <summary>Art that is stored already, read as the form wants it.</summary>
    public async Task<UploadedArt?> ReadArtAsync(
        string sha256,
        string fileName,
        OrderForm form,
        ModelStateDictionary state,
        CancellationToken cancel
    )
    {
        try
        {
            var art = await artworks.ReadAsync(sha256, form.WidthMm, form.PdfPage, cancel);
            return new(sha256, fileName, Artworks.MediaType(art), Artworks.IsOpaque(art), art.Words.Length > 0);
        }
        catch (UnreadableArt unreadable)
        {
            form.KeptArt = null;
            state.AddModelError(
                nameof(form.Art),
                Words.Sentence(unreadable.What) + " " + Words.Sentence(unreadable.NextStep)
            );
            return null;
        }
    }

    public async Task CheckAsync(OrderForm form, ModelStateDictionary state, CancellationToken cancel)
    {
        var own = (await shopInks.ListAsync(withRetired: true, cancel)).ToDictionary(ink => ink.OrderId);
        InkKind? KindOf(string id) => InkLibrary.Find(id)?.Kind ?? own.GetValueOrDefault(id)?.Definition.Kind;
        string NameOf(string id) => InkLibrary.Find(id)?.Name ?? own.GetValueOrDefault(id)?.Definition.Name ?? id;

        if (PrintMethods.Find(form.Method) is null)
            state.AddModelError(nameof(form.Method), "Choose one of the methods in the list.");
        else if (form.Inks.Find(id => KindOf(id) != PrintMethods.Find(form.Method)!.ColourInk) is { } foreign)
            state.AddModelError(
                nameof(form.Inks),
                $"{NameOf(foreign)} is not an ink of {PrintMethods.Find(form.Method)!.Name}. Untick it, or choose the other method."
            );
        if (
            PrintMethods.Find(form.Method) is { InkFreedom: InkFreedom.Chosen } chosen
            && form.Rules.Find(r => r.SaysSomething && KindOf(r.Ink) != chosen.ColourInk) is { } stranger
        )
            state.AddModelError(
                nameof(form.Rules),
                $"{NameOf(stranger.Ink)} is not an ink of {chosen.Name}. Say nothing about it, or choose the other method."
            );
        if (form.Press is { Length: > 0 } press && await presses.FindAsync(press, cancel) is null)
            state.AddModelError(nameof(form.Press), "Choose one of the presses in the list.");
        if (form.Device is { Length: > 0 } device && await devices.FindAsync(device, cancel) is null)
            state.AddModelError(nameof(form.Device), "Choose one of the devices in the list.");
        if (form.FilledLines.Any(l => garments.Find(l.Ground) is null))
            state.AddModelError("Lines[0].Ground", "Choose garments from the list.");
        if (form.Value is { } value && Money.Minor(value, form.Currency) is null)
            state.AddModelError(
                nameof(form.Value),
                $"The value has more than {Money.Digits(form.Currency)} digits after the point."
            );
        if (!string.IsNullOrWhiteSpace(form.Roster))
        {
            var reading = RosterFile.Read(Encoding.UTF8.GetBytes(form.Roster), BoundFiles.RosterName);
            foreach (var wrong in reading.Findings.Where(f => f.Weight == FindingWeight.Refusal))
                state.AddModelError(
                    nameof(form.Roster),
                    $"{Words.Sentence(wrong.Message)} {Words.Sentence(wrong.NextStep)}"
                );
        }
        CheckGarments(form, state);
    }

    /// <summary>A garment comes in its own sizes and has its own places.</summary>
    private void CheckGarments(OrderForm form, ModelStateDictionary state)
    {
        foreach (var line in form.FilledLines)
        {
            if (garments.Find(line.Ground)?.Garment is not { } garment)
                continue;
            var missing = line.Counts.Where(c => c.Count > 0 && garment.Size(c.Size) is null).Select(c => c.Size);
            if (missing.FirstOrDefault() is { } size)
                state.AddModelError(
                    "Lines[0].Ground",
                    $"{garment.Name} does not come in {size}; it comes in {string.Join(", ", garment.Sizes.Select(z => z.Size))}."
                );
            if (garment.Shape is { } shape && shape.Anchor(form.Place) is null)
                state.AddModelError(
                    nameof(form.Place),
                    $"{garment.Name} has no {Layout.Words.Place(form.Place.ToString())}; it has {string.Join(", ", shape.Places.Select(p => Layout.Words.Place(p.Place.ToString())))}."
                );
        }
    }

    public static OrderDraft Draft(OrderForm form, Guid clientId, UploadedArt art) =>
        new(
            form.Title.Trim(),
            clientId,
            form.InHands,
            form.ApproveBy,
            form.Notes?.Trim() ?? "",
            [
                new OrderPrint
                {
                    Name = Layout.Words.Place(form.Place.ToString()),
                    ArtSha256 = art.Sha256,
                    ArtFileName = art.FileName,
                    ArtMediaType = art.MediaType,
                    Place = form.Place.ToString(),
                    FromSeamUm = Micrometres(form.FromSeamMm),
                    FromCentreUm = Micrometres(form.FromCentreMm),
                    WidthUm = Micrometres(form.WidthMm),
                    Method = form.Method,
                    Inks = form.Inks.Count > 0 ? string.Join(',', form.Inks) : form.InkCount?.ToString() ?? "auto",
                    Base = new PressChoice(form.Base, form.BlockingBase, form.Press ?? "").Line,
                    Words = string.Join('\n', Lines(form.Words)),
                    Options = Options(form, PrintOptions.None).ToJson(),
                },
            ],
            [
                .. form.FilledLines.Select(l => new OrderLine
                {
                    GarmentId = l.Ground.Split('/')[0],
                    ColourId = l.Ground.Split('/')[1],
                    Counts =
                    [
                        .. l
                            .Counts.Where(c => c.Count > 0)
                            .Select(c => new LineCount { Size = c.Size, Count = c.Count!.Value }),
                    ],
                }),
            ]
        )
        {
            Terms = form.Terms,
        };

    /// <summary>What the form chooses among the options; the rest stays as it was chosen elsewhere.</summary>
    public static PrintOptions Options(OrderForm form, PrintOptions before) =>
        before with
        {
            Device = form.Device is { Length: > 0 } device ? device : null,
            Images =
                form.ImagesAcross * form.ImagesDown > 1
                    ? new(form.ImagesAcross, form.ImagesDown, form.ImageGapMm)
                    : null,
            PdfPage = form.PdfPage is > 1 ? form.PdfPage : null,
            Layers = form.FlattenLayers ? PrintOptions.Flatten : null,
            FlatAreas = form.FlatAreas == PrintOptions.Toned ? PrintOptions.Toned : null,
            InkRules = InkRuleChoice.Of(form.Rules),
            Roster = string.IsNullOrWhiteSpace(form.Roster) ? null : form.Roster.ReplaceLineEndings("\n").Trim(),
        };

    public static OrderForm Of(Order order, string currency)
    {
        var print = order.Prints[0];
        var options = PrintOptions.Of(print.Options);
        var onPress = PressChoice.Of(print.Base);
        return new OrderForm
        {
            Title = order.Title,
            ClientName = order.Client?.Name ?? "",
            ClientEmail = order.Client?.Email ?? "",
            InHands = order.InHandsDate,
            ApproveBy = order.ApproveByDate,
            Currency = currency,
            Value = order.ValueMinor is { } minor ? Money.Amount(minor, currency) : null,
            Evidence = order.EvidenceAsked switch
            {
                EvidenceLevel.Link => "link",
                EvidenceLevel.Code => "code",
                _ => null,
            },
            SecondApprover = order.SecondApprover,
            SampleAsked = order.SampleAsked,
            Place = Enum.Parse<Place>(print.Place),
            WidthMm = print.WidthUm / 1000.0,
            FromSeamMm = print.FromSeamUm / 1000.0,
            FromCentreMm = print.FromCentreUm / 1000.0,
            Method = print.Method,
            InkCount = int.TryParse(print.Inks, out var count) ? count : null,
            Inks = [.. print.Inks.Split(',').Where(id => ShopInks.IsOwn(id) || InkLibrary.Find(id) is not null)],
            Rules = PrintOptions.Of(print.Options).InkRules?.Rows() ?? [],
            Base = onPress.Base,
            BlockingBase = onPress.BlockingBase,
            FlattenLayers = options.Layers == PrintOptions.Flatten,
            FlatAreas = options.FlatAreas ?? "solid",
            Press = onPress.Press,
            Device = options.Device,
            ImagesAcross = options.Images?.Columns ?? 1,
            ImagesDown = options.Images?.Rows ?? 1,
            ImageGapMm = options.Images?.GapMm ?? ScreenLayout.UsualGapMm,
            Words = print.Words,
            Roster = options.Roster,
            PdfPage = options.PdfPage,
            Notes = order.Notes,
            Lines =
            [
                .. order.Lines.Select(l => new LineForm
                {
                    // A reorder names the version it repeats; an order that is changed goes on with the newest.
                    Ground = $"{l.GarmentId.Split('@')[0]}/{l.ColourId}",
                    Counts = [.. l.Counts.Select(c => new CountForm { Size = c.Size, Count = c.Count })],
                }),
            ],
        };
    }

    public static void FillUp(OrderForm form)
    {
        while (form.Lines.Count < OrderForm.MostLines)
            form.Lines.Add(new LineForm());
    }

    internal static string[] Lines(string? text) =>
        (text ?? "").Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static int Micrometres(double mm) => (int)Math.Round(mm * 1000);
}
