using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;

namespace ProofDesk.Web.Api.Orders;

/// <summary>Orders: the list, one, a new one, a changed one, and the next version of one.</summary>
[Tags("Orders")]
[Route(V1 + "/orders")]
public sealed class OrdersApi(
    OfficeDb db,
    OrderBook book,
    OrderForms forms,
    OrderTaking taking,
    Artworks artworks,
    RenderRequests renders,
    PersonAtDesk caller
) : ApiBase
{
    [HttpGet("")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Lists orders")]
    [EndpointDescription(
        "As on the desk: by in-hands date, those without one last. The field next is the address of the next page."
    )]
    [ProducesResponseType<OrderList>(200, "application/json")]
    public async Task<IActionResult> List([FromQuery] OrderQuery query, CancellationToken cancel)
    {
        if (query.Mistakes().ToList() is [_, ..] mistakes)
            return Mend(mistakes);
        var rows = await query.Narrowed(db).Take(query.Rows + 1).ToListAsync(cancel);
        var page = rows.Take(query.Rows).ToList();
        return Tagged(
            new OrderList(
                [.. page.Select(OrderRow.Of)],
                rows.Count > page.Count ? query.NextAddress(V1 + "/orders", page[^1]) : null
            )
        );
    }

    [HttpGet("{id:guid}")]
    [Needs(Right.ReadOrders)]
    [EndpointSummary("Reads an order")]
    [ProducesResponseType<OrderAnswer>(200, "application/json")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel) =>
        await book.FindAsync(id, cancel) is { } order ? Tagged(await AnswerAsync(order, cancel)) : NotFound();

    [HttpPost("")]
    [Needs(Right.TakeOrders)]
    [Once]
    [TakesOrder]
    [EndpointSummary("Takes an order")]
    [EndpointDescription(
        "The same fields and rules as the desk's page of a new order, and every mistake at once. The art comes as base64 within the JSON, or as the part \"art\" of multipart/form-data beside the part \"order\". The proof is asked for at once, unless the answer's field open names a question first."
    )]
    [ProducesResponseType<OrderAnswer>(201, "application/json")]
    public async Task<IActionResult> Create(CancellationToken cancel)
    {
        if (!Bodies.IsReadable(Request))
            return Problem(StatusCodes.Status415UnsupportedMediaType);
        var body = await Bodies.ReadAsync<NewOrder>(Request, cancel);
        if (body.Value is not { } asked)
            return Mend(body.Mistakes);
        var mistakes = new List<Mistake>();
        var form = NewOrderForms.Of(asked, body.Art, await db.CurrencyAsync(cancel), mistakes);
        Check(form);
        var art = mistakes.Exists(m => m.Code == "no-base64")
            ? null
            : await forms.StoreArtAsync(form, ModelState, cancel);
        await forms.CheckAsync(form, ModelState, cancel);
        mistakes.AddRange(OrderMistakes.Of(ModelState, form));
        if (mistakes.Count > 0 || art is null)
            return Mend(mistakes);
        var background = asked.Prints[0].Background;
        var id = await taking.CreateAsync(form, art, background, Actor, cancel);
        await taking.AskAsync(id, art, background, form.Words, Actor, cancel);
        var order = (await book.FindAsync(id, cancel))!;
        return Made($"{V1}/orders/{id}", await AnswerAsync(order, cancel));
    }

    [HttpPut("{id:guid}")]
    [Needs(Right.WorkOnArt)]
    [TakesOrder]
    [Match]
    [EndpointSummary("Changes an order")]
    [EndpointDescription(
        "Replaces everything but the client by what is sent; without art the order keeps the one it has. What was sent to the client stays as it was sent: the change makes the next version. If-Match carries the ETag of the order as it was read."
    )]
    [ProducesResponseType<OrderAnswer>(200, "application/json")]
    public async Task<IActionResult> Change(Guid id, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..] } order)
            return NotFound();
        if (NotAsSeen(await AnswerAsync(order, cancel)) is { } refused)
            return refused;
        if (!Bodies.IsReadable(Request))
            return Problem(StatusCodes.Status415UnsupportedMediaType);
        var body = await Bodies.ReadAsync<NewOrder>(Request, cancel);
        if (body.Value is not { } asked)
            return Mend(body.Mistakes);
        var mistakes = new List<Mistake>();
        var form = NewOrderForms.Of(asked, body.Art, await db.CurrencyAsync(cancel), mistakes);
        (form.ClientName, form.ClientEmail) = (order.Client!.Name, order.Client.Email);
        Check(form);
        var options = PrintOptions.Of(print.Options);
        var samePage = (form.PdfPage ?? 1) == (options.PdfPage ?? 1);
        var art =
            mistakes.Exists(m => m.Code == "no-base64") ? null
            : form.Art is not null ? await forms.StoreArtAsync(form, ModelState, cancel)
            : samePage ? new UploadedArt(print.ArtSha256, print.ArtFileName, print.ArtMediaType)
            : await forms.ReadArtAsync(print.ArtSha256, print.ArtFileName, form, ModelState, cancel);
        await forms.CheckAsync(form, ModelState, cancel);
        mistakes.AddRange(OrderMistakes.Of(ModelState, form));
        if (mistakes.Count > 0 || art is null)
            return Mend(mistakes);
        var draft = OrderForms.Draft(form, order.ClientId, art);
        var background = asked.Prints[0].Background ?? (form.Art is null && samePage ? print.Background : "");
        draft.Prints[0].Background = art.IsOpaque || print.Background.Length > 0 ? background : "";
        draft.Prints[0].Options = OrderForms.Options(form, options).ToJson();
        if (!await book.EditAsync(id, order.RowVersion, draft, Actor, cancel))
            return Problem(StatusCodes.Status412PreconditionFailed);
        await taking.AskAsync(id, art, background, form.Words, Actor, cancel);
        return Tagged(await AnswerAsync((await book.FindAsync(id, cancel))!, cancel));
    }

    [HttpPost("{id:guid}/versions")]
    [Needs(Right.WorkOnArt)]
    [Once]
    [TakesJson<NewVersion>]
    [EndpointSummary("Asks for a version")]
    [EndpointDescription(
        "Has the proof of the order made as the order stands now, and answers the questions the art raised. Rendering goes on behind the answer: its state is in the version."
    )]
    [ProducesResponseType<VersionRow>(201, "application/json")]
    public async Task<IActionResult> MakeVersion(Guid id, CancellationToken cancel)
    {
        if (await book.FindAsync(id, cancel) is not { Prints: [var print, ..] } order)
            return NotFound();
        var body = new ReadBody<NewVersion>(new NewVersion(), null, []);
        if (Request.ContentLength is not 0 and not null || Request.ContentType is not null)
        {
            if (!Request.HasJsonContentType())
                return Problem(StatusCodes.Status415UnsupportedMediaType);
            body = await Bodies.ReadAsync<NewVersion>(Request, cancel);
        }
        if (body.Value is not { } asked)
            return Mend(body.Mistakes);
        if (asked.Background is not (null or "drop" or "print"))
            return Mend([NewOrderForms.WrongBackground("/background", asked.Background)]);
        var words = asked.Words is null ? null : string.Join('\n', asked.Words);
        if (words?.Length > FoundWordsController.MostCharacters)
            return Mend([
                new(
                    "too-long",
                    "/words",
                    "The words of the art have at most 4,000 characters.",
                    $"{words.Length} characters",
                    "4000 characters",
                    "Shorten them."
                ),
            ]);
        var open = await QuestionsAsync(order, cancel);
        if (asked.Background is null && open.Contains(OpenQuestion.Background))
            return Open(
                "/background",
                "The art covers its whole extent: say whether its background is printed or dropped."
            );
        if (words is null && open.Contains(OpenQuestion.Words))
            return Open("/words", "Text stands in the art: say which words it must read, or send an empty list.");
        await db
            .OrderPrints.Where(p => p.Id == print.Id)
            .ExecuteUpdateAsync(
                set =>
                    set.SetProperty(p => p.Background, asked.Background ?? print.Background)
                        .SetProperty(p => p.Words, words ?? print.Words),
                cancel
            );
        var version = await renders.AskAsync(id, Actor, cancel);
        var made = await db.ProofVersions.AsNoTracking().SingleAsync(v => v.Id == version, cancel);
        return Made($"{V1}/versions/{version}", VersionRow.Of(made));
    }

    // Rules of single fields, and then those of the whole: the page shows them in two rounds, a program gets all at once.
    private void Check(OrderForm form)
    {
        if (TryValidateModel(form))
            return;
        foreach (var wrong in form.Validate(new(form)))
        foreach (var field in wrong.MemberNames.DefaultIfEmpty(""))
        {
            if (ModelState[field]?.Errors.Any(e => e.ErrorMessage == wrong.ErrorMessage) != true)
                ModelState.AddModelError(field, wrong.ErrorMessage!);
        }
    }

    private ObjectResult Open(string field, string message) =>
        Mend([new("question-open", field, message, null, null, $"Send {field} in the body.")]);

    private async Task<OrderAnswer> AnswerAsync(Order order, CancellationToken cancel) =>
        OrderAnswer.Of(order, await db.CurrencyAsync(cancel), caller, await QuestionsAsync(order, cancel));

    /// <summary>Only an order nobody made a version of can wait for an answer; then its art is looked at.</summary>
    private async Task<IReadOnlyList<OpenQuestion>> QuestionsAsync(Order order, CancellationToken cancel)
    {
        if (order is not { Versions.Count: 0, RepeatOfVersionId: null, Prints: [var print, ..] })
            return [];
        if (print.Background.Length > 0 && print.Words.Length > 0)
            return [];
        var questions = new List<OpenQuestion>();
        try
        {
            var art = await artworks.ReadAsync(print, cancel);
            if (print.Background.Length == 0 && Artworks.IsOpaque(art))
                questions.Add(OpenQuestion.Background);
            if (print.Words.Length == 0 && art.Words.Length > 0)
                questions.Add(OpenQuestion.Words);
        }
        catch (UnreadableArt)
        {
            // Whoever renders it says why.
        }
        return questions;
    }
}
