using AngleSharp.Dom;
using AngleSharp.Html.Dom;

namespace ProofDesk.HostileText;

/// <param name="IsText">somebody types into it</param>
public sealed record ServedField(string Name, string Value, bool IsText, bool IsFile);

/// <summary>A form as a page served it: where it goes and every field with what stands in it.</summary>
public sealed record ServedForm(string Action, bool Posts, IReadOnlyList<ServedField> Fields)
{
    private static readonly string[] Typed = ["", "text", "search", "email", "url", "tel", "password"];

    public IEnumerable<ServedField> Texts => Fields.Where(f => f.IsText);
    public ServedField? File => Fields.FirstOrDefault(f => f.IsFile);

    public static IReadOnlyList<ServedForm> In(IHtmlDocument page, string path) =>
        [.. page.QuerySelectorAll("form").OfType<IHtmlFormElement>().Select(form => Of(form, path))];

    private static ServedForm Of(IHtmlFormElement form, string path)
    {
        var action = form.GetAttribute("action");
        return new(
            string.IsNullOrEmpty(action) ? path : action,
            string.Equals(form.GetAttribute("method"), "post", StringComparison.OrdinalIgnoreCase),
            [.. form.Elements.SelectMany(FieldsOf)]
        );
    }

    private static IEnumerable<ServedField> FieldsOf(IElement element)
    {
        var name = element.GetAttribute("name");
        if (string.IsNullOrEmpty(name) || element.HasAttribute("disabled"))
            yield break;
        switch (element)
        {
            case IHtmlTextAreaElement area:
                yield return new(name, area.DefaultValue, true, false);
                break;
            case IHtmlSelectElement select:
                foreach (var option in select.SelectedOptions)
                    yield return new(name, option.Value, false, false);
                break;
            case IHtmlInputElement input:
                var type = (input.GetAttribute("type") ?? "").ToLowerInvariant();
                if (type is "checkbox" or "radio" && !input.HasAttribute("checked"))
                    yield break;
                if (type is "submit" or "button" or "image" or "reset")
                    yield break;
                yield return new(name, input.GetAttribute("value") ?? "", Typed.Contains(type), type == "file");
                break;
        }
    }
}
