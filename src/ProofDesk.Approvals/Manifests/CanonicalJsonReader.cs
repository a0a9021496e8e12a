using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ProofDesk.Approvals.Manifests;

/// <summary>The strict reader behind <see cref="CanonicalJson.Parse"/>: every refusal names the place.</summary>
internal sealed class CanonicalJsonReader
{
    public const int MaxBytes = 16 * 1024 * 1024;
    private const int MaxDepth = 32;

    private readonly string text;
    private int at;
    private int depth;

    private CanonicalJsonReader(string text) => this.text = text;

    public static JsonItem Read(ReadOnlySpan<byte> utf8)
    {
        if (utf8.Length > MaxBytes)
        {
            throw new RecordFormatException($"{utf8.Length} bytes of JSON, at most {MaxBytes} are read");
        }

        string decoded;
        try
        {
            decoded = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(utf8);
        }
        catch (DecoderFallbackException)
        {
            throw new RecordFormatException($"byte {FirstNotUtf8(utf8)} is not UTF-8");
        }

        var reader = new CanonicalJsonReader(decoded);
        var item = reader.Value();
        reader.SkipSpace();
        return reader.at == decoded.Length ? item : throw reader.Wrong("text after the end of the value");
    }

    /// <summary>Where the first sequence starts that is none.</summary>
    private static int FirstNotUtf8(ReadOnlySpan<byte> utf8)
    {
        var good = 0;
        while (Rune.DecodeFromUtf8(utf8[good..], out _, out var used) == System.Buffers.OperationStatus.Done)
        {
            good += used;
        }

        return good;
    }

    private JsonItem Value()
    {
        SkipSpace();
        return Peek() switch
        {
            '{' => Nested(Members),
            '[' => Nested(List),
            '"' => new JsonText(Text()),
            't' => Word("true", true),
            'f' => Word("false", false),
            '-' or (>= '0' and <= '9') => Whole(),
            'n' => throw Wrong("null is not part of the profile: leave the member out"),
            '\0' => throw Wrong("the value ends too early"),
            var c => throw Wrong($"'{c}' does not start a value"),
        };
    }

    private JsonItem Nested(Func<JsonItem> read)
    {
        if (++depth > MaxDepth)
        {
            throw Wrong($"more than {MaxDepth} levels");
        }

        at++;
        var item = read();
        depth--;
        return item;
    }

    private JsonMembers Members()
    {
        var members = ImmutableSortedDictionary.CreateBuilder<string, JsonItem>(StringComparer.Ordinal);
        SkipSpace();
        if (Take('}'))
        {
            return new(members.ToImmutable());
        }

        do
        {
            SkipSpace();
            var start = at;
            var key = Peek() == '"' ? Text() : throw Wrong("a key in quotes is missing");
            if (!key.All(c => c is >= ' ' and <= '~'))
            {
                throw Wrong("a key is not printable ASCII", start);
            }

            SkipSpace();
            Expect(':');
            var value = Value();
            if (!members.TryAdd(key, value))
            {
                throw Wrong($"the key '{key}' is there twice", start);
            }

            SkipSpace();
        } while (Take(','));
        Expect('}');
        return new(members.ToImmutable());
    }

    private JsonList List()
    {
        var items = ImmutableArray.CreateBuilder<JsonItem>();
        SkipSpace();
        if (Take(']'))
        {
            return new([]);
        }

        do
        {
            items.Add(Value());
            SkipSpace();
        } while (Take(','));
        Expect(']');
        return new(items.ToImmutable());
    }

    private JsonWhole Whole()
    {
        var start = at;
        Take('-');
        while (Peek() is >= '0' and <= '9')
        {
            at++;
        }

        var digits = text[start..at];
        if (Peek() is '.' or 'e' or 'E')
        {
            throw Wrong("fractions and exponents are not part of the profile: use a smaller unit", start);
        }

        var bare = digits.TrimStart('-');
        if (bare.Length == 0 || (bare.Length > 1 && bare[0] == '0') || digits == "-0")
        {
            throw Wrong($"'{digits}' is not a whole number as JSON writes it", start);
        }

        return
            long.TryParse(digits, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value)
            && value is >= -JsonWhole.Limit and <= JsonWhole.Limit
            ? new JsonWhole(value)
            : throw Wrong($"the number {digits} is beyond 2^53 - 1 = {JsonWhole.Limit}", start);
    }

    private string Text()
    {
        var start = at++;
        var value = new StringBuilder();
        while (true)
        {
            var c = at < text.Length ? text[at++] : throw Wrong("a text is not closed", start);
            if (c == '"')
            {
                break;
            }

            if (c < ' ')
            {
                throw Wrong("a control character stands unescaped in a text", at - 1);
            }

            value.Append(c == '\\' ? Escape() : c);
        }

        var result = value.ToString();
        try
        {
            return result.IsNormalized(NormalizationForm.FormC)
                ? result
                : throw Wrong("a text is not in normalisation form C", start);
        }
        catch (ArgumentException)
        {
            throw Wrong("a text has half a surrogate pair", start);
        }
    }

    private char Escape()
    {
        var c = Peek();
        at++;
        return c switch
        {
            '"' or '\\' or '/' => c,
            'b' => '\b',
            't' => '\t',
            'n' => '\n',
            'f' => '\f',
            'r' => '\r',
            'u' => Unit(),
            _ => throw Wrong($"'\\{c}' is not an escape", at - 2),
        };
    }

    private char Unit()
    {
        var digits = at + 4 <= text.Length ? text.Substring(at, 4) : throw Wrong("a text is not closed");
        at += 4;
        // TryParse alone would let zero characters stand at the end.
        return
            digits.All(char.IsAsciiHexDigit)
            && ushort.TryParse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var unit)
            ? (char)unit
            : throw Wrong($"'\\u{digits}' is not an escape", at - 6);
    }

    private JsonTruth Word(string word, bool value)
    {
        if (string.CompareOrdinal(text, at, word, 0, word.Length) != 0)
        {
            throw Wrong("neither true nor false");
        }

        at += word.Length;
        return new(value);
    }

    private char Peek() => at < text.Length ? text[at] : '\0';

    private bool Take(char c)
    {
        var there = Peek() == c;
        at += there ? 1 : 0;
        return there;
    }

    private void Expect(char c)
    {
        if (!Take(c))
        {
            throw Wrong($"'{c}' is missing");
        }
    }

    private void SkipSpace()
    {
        while (Peek() is ' ' or '\t' or '\n' or '\r')
        {
            at++;
        }
    }

    private RecordFormatException Wrong(string what, int? where = null) => new($"{what}, at character {where ?? at}");
}
