using System.Text.Json;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Security;

namespace ProofDesk.Web.Api.Orders;

/// <summary>A body as it came: understood, or what is wrong with it.</summary>
internal sealed record ReadBody<T>(T? Value, IFormFile? Art, IReadOnlyList<Mistake> Mistakes)
    where T : class;

/// <summary>
/// Reads JSON bodies: alone, or as the part "order" of a form beside the part "art". A member nobody knows is a mistake, as is a character
/// that is no text.
/// </summary>
internal static class Bodies
{
    public const string OrderPart = "order";
    public const string ArtPart = "art";

    public static bool IsReadable(HttpRequest request) => request.HasJsonContentType() || IsForm(request);

    public static bool IsForm(HttpRequest request) =>
        request.ContentType?.StartsWith("multipart/form-data", StringComparison.OrdinalIgnoreCase) == true;

    public static async Task<ReadBody<T>> ReadAsync<T>(HttpRequest request, CancellationToken cancel)
        where T : class
    {
        if (!IsForm(request))
        {
            using var bytes = new MemoryStream();
            await request.Body.CopyToAsync(bytes, cancel);
            return Read<T>(bytes.ToArray(), null);
        }
        IFormCollection form;
        try
        {
            form = await request.ReadFormAsync(cancel);
        }
        catch (InvalidDataException)
        {
            return Wrong<T>(
                "not-understood",
                "",
                "The form could not be taken apart.",
                "Send multipart/form-data as RFC 7578 has it."
            );
        }
        var art = form.Files.GetFile(ArtPart);
        // curl sends a part with a type of its own as a file.
        if (form.Files.GetFile(OrderPart) is { } part)
        {
            using var bytes = new MemoryStream();
            await part.CopyToAsync(bytes, cancel);
            return Read<T>(bytes.ToArray(), art);
        }
        return form.TryGetValue(OrderPart, out var text)
            ? Read<T>(System.Text.Encoding.UTF8.GetBytes(text.ToString()), art)
            : Wrong<T>(
                "missing",
                "",
                $"The form has no part \"{OrderPart}\".",
                $"Send the order as JSON in the part \"{OrderPart}\" and the art in the part \"{ArtPart}\"."
            );
    }

    private static ReadBody<T> Read<T>(byte[] json, IFormFile? art)
        where T : class
    {
        try
        {
            var value = JsonSerializer.Deserialize<T>(json, ApiJson.Options);
            if (value is null)
                return Wrong<T>("missing", "", "The body is null.", "Send an object.");
            using var whole = JsonDocument.Parse(json);
            var foreign = Foreign(whole.RootElement, "").ToList();
            return new(foreign.Count == 0 ? value : null, art, foreign);
        }
        catch (JsonException wrong)
        {
            return Wrong<T>(
                "not-understood",
                Pointer(wrong.Path),
                Said(wrong),
                "Compare the field with the schema in /api/v1/openapi.json."
            );
        }
    }

    private static ReadBody<T> Wrong<T>(string code, string field, string message, string nextStep)
        where T : class => new(null, null, [new(code, field, message, null, null, nextStep)]);

    // The sentence without the place and the type's name in our program, which say nothing to who sent it.
    private static string Said(JsonException wrong)
    {
        var place = wrong.LineNumber is { } line ? $" (line {line + 1}, byte {wrong.BytePositionInLine + 1})" : "";
        if (wrong.Message.StartsWith("The JSON property '", StringComparison.Ordinal))
            return $"There is no field {wrong.Message.Split('\'')[1]}{place}.";
        return wrong.Message.StartsWith("The JSON value could not be converted", StringComparison.Ordinal)
            ? $"The value is of another type than this field takes{place}."
            : $"The body is not JSON{place}.";
    }

    /// <summary>"$.prints[0].widthMm" as a JSON Pointer.</summary>
    internal static string Pointer(string? path) =>
        (path ?? "")
            .TrimStart('$')
            .Replace("['", ".")
            .Replace("']", "")
            .Replace("[", ".")
            .Replace("]", "")
            .Replace('.', '/');

    private static IEnumerable<Mistake> Foreign(JsonElement element, string at) =>
        element.ValueKind switch
        {
            JsonValueKind.Object => element
                .EnumerateObject()
                .SelectMany(member =>
                    Foreign(member.Value, $"{at}/{member.Name}").Concat(ForeignText(member.Name, at))
                ),
            JsonValueKind.Array => element.EnumerateArray().SelectMany((item, i) => Foreign(item, $"{at}/{i}")),
            JsonValueKind.String => ForeignText(element.GetString()!, at),
            _ => [],
        };

    private static IEnumerable<Mistake> ForeignText(string text, string at) =>
        PlainText.Foreign(text) is { } c
            ?
            [
                new(
                    "no-text",
                    at,
                    $"There is a character that is no text: U+{(int)c:X4}.",
                    $"U+{(int)c:X4}",
                    null,
                    "Take it out and send the rest again."
                ),
            ]
            : [];
}
