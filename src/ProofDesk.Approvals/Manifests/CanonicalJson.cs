using System.Globalization;
using System.Text;

namespace ProofDesk.Approvals.Manifests;

/// <summary>
/// Canonical JSON: the profile of RFC 8785 without fractions and without null. UTF-8, texts in normalisation form C,
/// keys printable ASCII sorted by UTF-16 units (RFC 8785 section 3.2.3), shortest escapes (section 3.2.2.2), no white space.
/// </summary>
public static class CanonicalJson
{
    public static byte[] Write(JsonItem item)
    {
        var text = new StringBuilder();
        Append(text, item);
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>Reads JSON of the profile; white space and other escapes are allowed, duplicates and fractions are not.</summary>
    public static JsonItem Parse(ReadOnlySpan<byte> utf8) => CanonicalJsonReader.Read(utf8);

    /// <summary>Reads bytes that must be exactly what <see cref="Write"/> would write.</summary>
    public static JsonItem ParseCanonical(ReadOnlySpan<byte> utf8)
    {
        var item = Parse(utf8);
        var again = Write(item);
        if (!utf8.SequenceEqual(again))
        {
            var at = utf8.CommonPrefixLength(again);
            throw new RecordFormatException(
                $"not canonical: byte {at} differs from the canonical form ({utf8.Length} bytes given, {again.Length} canonical)"
            );
        }

        return item;
    }

    private static void Append(StringBuilder text, JsonItem item)
    {
        switch (item)
        {
            case JsonText value:
                AppendText(text, value.Value);
                break;
            case JsonWhole value:
                text.Append(value.Value.ToString(CultureInfo.InvariantCulture));
                break;
            case JsonTruth value:
                text.Append(value.Value ? "true" : "false");
                break;
            case JsonList list:
                AppendList(text, list);
                break;
            case JsonMembers members:
                AppendMembers(text, members);
                break;
        }
    }

    private static void AppendList(StringBuilder text, JsonList list)
    {
        text.Append('[');
        for (var i = 0; i < list.Items.Length; i++)
        {
            text.Append(i > 0 ? "," : "");
            Append(text, list.Items[i]);
        }

        text.Append(']');
    }

    private static void AppendMembers(StringBuilder text, JsonMembers members)
    {
        var first = true;
        text.Append('{');
        foreach (var (key, value) in members.Members.OrderBy(m => m.Key, StringComparer.Ordinal))
        {
            if (!key.All(c => c is >= ' ' and <= '~'))
            {
                throw new RecordFormatException($"the key '{key}' is not printable ASCII");
            }

            text.Append(first ? "" : ",");
            first = false;
            AppendText(text, key);
            text.Append(':');
            Append(text, value);
        }

        text.Append('}');
    }

    private static void AppendText(StringBuilder text, string value)
    {
        text.Append('"');
        foreach (var c in value)
        {
            _ = c switch
            {
                '"' => text.Append("\\\""),
                '\\' => text.Append("\\\\"),
                '\b' => text.Append("\\b"),
                '\t' => text.Append("\\t"),
                '\n' => text.Append("\\n"),
                '\f' => text.Append("\\f"),
                '\r' => text.Append("\\r"),
                < ' ' => text.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}"),
                _ => text.Append(c),
            };
        }

        text.Append('"');
    }
}
