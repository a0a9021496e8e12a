using System.Collections;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Orders;

namespace ProofDesk.Web.Api.Orders;

/// <summary>Mistakes the order form finds, with the fields of the JSON in place of those of the page. The words stay.</summary>
internal static class OrderMistakes
{
    private static readonly Dictionary<string, string> Elsewhere = new()
    {
        [""] = "",
        [nameof(OrderForm.Title)] = "/title",
        [nameof(OrderForm.ClientName)] = "/client/name",
        [nameof(OrderForm.ClientEmail)] = "/client/email",
        [nameof(OrderForm.InHands)] = "/inHands",
        [nameof(OrderForm.ApproveBy)] = "/approveBy",
        [nameof(OrderForm.Value)] = "/value",
        [nameof(OrderForm.Evidence)] = "/evidence",
        [nameof(OrderForm.SecondApprover)] = "/secondApprover",
        [nameof(OrderForm.Notes)] = "/notes",
        [nameof(OrderForm.Lines)] = "/lines",
        [nameof(OrderForm.Rules)] = "/prints/0/inkRules",
    };

    public static IReadOnlyList<Mistake> Of(ModelStateDictionary state, OrderForm form) =>
        [.. state.SelectMany(entry => entry.Value!.Errors.Select(error => Of(entry.Key, error.ErrorMessage, form)))];

    private static Mistake Of(string key, string message, OrderForm form)
    {
        var name = key.Split('[', '.')[0];
        var field = Elsewhere.GetValueOrDefault(name) ?? "/prints/0/" + char.ToLowerInvariant(name[0]) + name[1..];
        var property = name.Length > 0 ? typeof(OrderForm).GetProperty(name) : null;
        var rule = property
            ?.GetCustomAttributes<ValidationAttribute>()
            .FirstOrDefault(r => r.FormatErrorMessage(name) == message);
        var value = property?.GetValue(form);
        var given = value is null or (IEnumerable and not string) or IFormFile ? null : Text(value);
        return rule switch
        {
            RequiredAttribute => new("missing", field, message, null, null, $"Send {field}."),
            StringLengthAttribute length => new(
                "too-long",
                field,
                message,
                $"{given?.Length} characters",
                $"{length.MaximumLength} characters",
                "Shorten it."
            ),
            RangeAttribute range => new(
                "out-of-range",
                field,
                message,
                given,
                $"{Text(range.Minimum)} to {Text(range.Maximum)}",
                $"Send a number from {Text(range.Minimum)} to {Text(range.Maximum)}."
            ),
            EmailAddressAttribute => new("no-address", field, message, given, "name@example.com", "Mend the address."),
            RegularExpressionAttribute words => new(
                "not-one-of",
                field,
                message,
                given,
                string.Join(", ", words.Pattern.Trim('^', '$', '?').Trim('(', ')').Split('|')),
                "Send one of these words."
            ),
            _ => new("not-possible", field, message, given, null, "Change it as the message says and send it again."),
        };
    }

    private static string Text(object value) => Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
}
