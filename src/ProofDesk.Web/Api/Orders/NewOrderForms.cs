using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Orders;

namespace ProofDesk.Web.Api.Orders;

/// <summary>The order as the page's form has it, so that one set of rules checks both.</summary>
internal static class NewOrderForms
{
    public static OrderForm Of(NewOrder order, IFormFile? art, string currency, ICollection<Mistake> mistakes)
    {
        if (order.Prints.Count != 1)
            mistakes.Add(
                new(
                    "one-print",
                    "/prints",
                    $"{order.Prints.Count} prints are given; an order has exactly one for now.",
                    $"{order.Prints.Count}",
                    "1",
                    "Send one print, and an order for each further one."
                )
            );
        var print = order.Prints.Count > 0 ? order.Prints[0] : new NewPrint();
        if (print.Background is not (null or "" or "drop" or "print"))
            mistakes.Add(WrongBackground("/prints/0/background", print.Background));
        return new OrderForm
        {
            Title = order.Title,
            ClientName = order.Client?.Name ?? "",
            ClientEmail = order.Client?.Email ?? "",
            InHands = order.InHands,
            ApproveBy = order.ApproveBy,
            Value = order.Value,
            Currency = currency,
            Evidence = order.Evidence,
            SecondApprover = order.SecondApprover,
            SampleAsked = order.SampleAsked,
            Notes = order.Notes,
            Art = art ?? Decoded(print.Art, mistakes),
            Place = print.Place,
            WidthMm = print.WidthMm,
            FromSeamMm = print.FromSeamMm,
            FromCentreMm = print.FromCentreMm,
            Method = print.Method,
            InkCount = print.InkCount,
            Inks = [.. print.Inks],
            Rules =
            [
                .. print.InkRules.Select(r => new InkRuleForm
                {
                    Ink = r.Ink,
                    Use = r.Use,
                    Place = r.Place,
                }),
            ],
            Base = print.Base,
            BlockingBase = print.BlockingBase,
            FlattenLayers = print.FlattenLayers,
            FlatAreas = print.FlatAreas,
            Press = print.Press,
            Device = print.Device,
            ImagesAcross = print.ImagesAcross,
            ImagesDown = print.ImagesDown,
            ImageGapMm = print.ImageGapMm,
            Words = string.Join('\n', print.Words),
            PdfPage = print.PdfPage,
            Lines =
            [
                .. order.Lines.Select(line => new LineForm
                {
                    Ground = $"{line.Garment}/{line.Colour}",
                    Counts = [.. line.Sizes.Select(size => new CountForm { Size = size.Key, Count = size.Value })],
                }),
            ],
        };
    }

    public static Mistake WrongBackground(string field, string given) =>
        new(
            "not-one-of",
            field,
            "Choose what happens to the background.",
            given,
            "drop, print",
            "Send one of these words."
        );

    private static FormFile? Decoded(NewArt? art, ICollection<Mistake> mistakes)
    {
        if (art is null)
            return null;
        try
        {
            var bytes = Convert.FromBase64String(art.Base64);
            return new FormFile(new MemoryStream(bytes), 0, bytes.Length, Bodies.ArtPart, art.FileName);
        }
        catch (FormatException)
        {
            mistakes.Add(
                new(
                    "no-base64",
                    "/prints/0/art/base64",
                    "The art is not base64.",
                    $"{art.Base64.Length} characters",
                    "RFC 4648 section 4, without line breaks",
                    "Encode the file again, or send it as the part \"art\" of multipart/form-data."
                )
            );
            return null;
        }
    }
}
