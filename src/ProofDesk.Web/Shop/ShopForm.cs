using System.ComponentModel.DataAnnotations;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Shop;

/// <summary>What the shop asks of an answer, and how often it reminds.</summary>
public sealed class ShopForm : IValidatableObject
{
    private const int MostLines = 8;

    public long RowVersion { get; set; }

    [RegularExpression("^([A-Z]{3})?$", ErrorMessage = "A currency has three capital letters, such as EUR.")]
    public string? Currency { get; set; }

    [Range(0, 1_000_000_000, ErrorMessage = "The value is between 0 and 1,000,000,000.")]
    public decimal? CodeFrom { get; set; }

    [Range(0, 60, ErrorMessage = "Days before a reminder are between 0 (none is sent) and 60.")]
    public int RemindAfterDays { get; set; }

    [StringLength(2000, ErrorMessage = "Your lines have at most 2,000 characters together.")]
    public string? Lines { get; set; }

    /// <summary>Everybody signs in with a second step or a passkey.</summary>
    public bool SecondStepForAll { get; set; }

    public IEnumerable<string> FilledLines =>
        (Lines ?? "").Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (CodeFrom is not null && string.IsNullOrEmpty(Currency))
            yield return new("Say in which currency the value is.", [nameof(Currency)]);
        if (CodeFrom is { } from && Money.Minor(from, Currency ?? "") is null)
            yield return new(
                $"{Currency} has {Money.Digits(Currency ?? "")} digits after the point.",
                [nameof(CodeFrom)]
            );
        if (FilledLines.Count() > MostLines)
            yield return new($"At most {MostLines} lines of your own stand above the button.", [nameof(Lines)]);
    }

    public static ShopForm Of(ShopSettings shop) =>
        new()
        {
            RowVersion = shop.RowVersion,
            Currency = shop.Currency,
            CodeFrom = shop.CodeFromValueMinor is { } minor ? Money.Amount(minor, shop.Currency) : null,
            RemindAfterDays = shop.RemindAfterDays,
            Lines = shop.StatementText,
            SecondStepForAll = shop.SecondStepForAll,
        };
}
