namespace ProofDesk.Printing.Proofs;

/// <summary>
/// A setting that came after recipes had been written: it stands in a recipe only where it is not as usual, so that old
/// recipes keep their bytes. Usual is null, zero, false, an empty text or list, or what the type calls Usual or One.
/// </summary>
[AttributeUsage(AttributeTargets.Property)]
internal sealed class LaterSettingAttribute : Attribute
{
    public static bool IsUsual(object? value) =>
        value switch
        {
            null => true,
            string text => text.Length == 0,
            System.Collections.ICollection list => list.Count == 0,
            ValueType number => number.Equals(Activator.CreateInstance(number.GetType())),
            _ => Named(value, "Usual") || Named(value, "One"),
        };

    private static bool Named(object value, string name) =>
        value.Equals(value.GetType().GetProperty(name)?.GetValue(null));
}
