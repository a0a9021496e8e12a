using System.Text;
using CsCheck;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Manifests;

public sealed class CanonicalJsonTests
{
    [Fact]
    public void Keys_are_sorted_and_white_space_is_left_out() =>
        Assert.Equal(
            """{"a":[1,-2,true],"b":{"c":"x"}}""",
            Rewrite(""" { "b" : { "c" : "x" }, "a" : [ 1, -2 , true ] } """)
        );

    // RFC 8785 section 3.2.2.2: the escapes, and section 3.2.4's example string without its number part.
    [Fact]
    public void Texts_have_the_shortest_escapes_of_rfc_8785() =>
        Assert.Equal(
            "\"\u20ac$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"",
            Rewrite("\"\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\\"\\/\"")
        );

    [Theory]
    [InlineData("9007199254740991", "9007199254740991")]
    [InlineData("-9007199254740991", "-9007199254740991")]
    [InlineData("0", "0")]
    public void Numbers_to_two_to_the_53_less_one_are_kept(string json, string canonical) =>
        Assert.Equal(canonical, Rewrite(json));

    [Theory]
    [InlineData(
        "9007199254740992",
        "the number 9007199254740992 is beyond 2^53 - 1 = 9007199254740991, at character 0"
    )]
    [InlineData("1.5", "fractions and exponents are not part of the profile: use a smaller unit, at character 0")]
    [InlineData("1e3", "fractions and exponents are not part of the profile: use a smaller unit, at character 0")]
    [InlineData("01", "'01' is not a whole number as JSON writes it, at character 0")]
    [InlineData("-0", "'-0' is not a whole number as JSON writes it, at character 0")]
    [InlineData("-", "'-' is not a whole number as JSON writes it, at character 0")]
    [InlineData("null", "null is not part of the profile: leave the member out, at character 0")]
    [InlineData("""{"a":1,"a":2}""", "the key 'a' is there twice, at character 7")]
    [InlineData("""{"\u0061":1,"a":2}""", "the key 'a' is there twice, at character 12")]
    [InlineData("{\"\u00e4\":1}", "a key is not printable ASCII, at character 1")]
    [InlineData("\"e\u0301\"", "a text is not in normalisation form C, at character 0")]
    [InlineData("\"\\ud800\"", "a text has half a surrogate pair, at character 0")]
    [InlineData("\"a\nb\"", "a control character stands unescaped in a text, at character 2")]
    [InlineData("\"a", "a text is not closed, at character 0")]
    [InlineData("[1,]", "']' does not start a value, at character 3")]
    [InlineData("[1", "']' is missing, at character 2")]
    [InlineData("{\"a\" 1}", "':' is missing, at character 5")]
    [InlineData("1 2", "text after the end of the value, at character 2")]
    [InlineData("", "the value ends too early, at character 0")]
    [InlineData("truth", "neither true nor false, at character 0")]
    [InlineData("\ufeff1", "'\ufeff' does not start a value, at character 0")]
    public void What_the_profile_leaves_out_is_refused_with_its_place(string json, string message) =>
        Assert.Equal(message, Assert.Throws<RecordFormatException>(() => Rewrite(json)).Message);

    [Fact]
    public void Bytes_that_are_not_utf8_are_refused() =>
        Assert.Equal(
            "byte 1 is not UTF-8",
            Assert.Throws<RecordFormatException>(() => CanonicalJson.Parse([0x22, 0xff, 0x22])).Message
        );

    [Fact]
    public void Deep_nesting_is_refused_before_the_stack_ends() =>
        Assert.Equal(
            "more than 32 levels, at character 32",
            Assert.Throws<RecordFormatException>(() => Rewrite(new string('[', 100_000))).Message
        );

    [Fact]
    public void Other_spellings_of_the_same_value_are_not_canonical() =>
        Assert.Equal(
            "not canonical: byte 5 differs from the canonical form (8 bytes given, 7 canonical)",
            Assert.Throws<RecordFormatException>(() => CanonicalJson.ParseCanonical("{\"a\": 1}"u8)).Message
        );

    [Fact]
    public void Texts_are_written_in_normalisation_form_C() =>
        Assert.Equal("\"\u00e9\"", Encoding.UTF8.GetString(CanonicalJson.Write("e\u0301")));

    [Fact]
    public void What_is_written_reads_back_the_same()
    {
        var text = Gen.Char[' ', '\u2fff'].Array[0, 12].Select(c => (JsonItem)new string(c));
        var whole = Gen.Long[-JsonWhole.Limit, JsonWhole.Limit].Select(n => (JsonItem)n);
        var leaf = Gen.OneOf(text, whole, Gen.Bool.Select(b => (JsonItem)b));
        var list = leaf.Array[0, 5].Select(items => (JsonItem)new JsonList([.. items]));
        var key = Gen.Char['a', 'z'].Array[1, 3].Select(c => new string(c));
        var members = Gen.Dictionary(key, Gen.OneOf(leaf, list))[0, 6]
            .Select(d => (JsonItem)JsonMembers.Of([.. d.Select(p => (p.Key, (JsonItem?)p.Value))]));

        members.Sample(item =>
        {
            var bytes = CanonicalJson.Write(item);
            return CanonicalJson.Write(CanonicalJson.ParseCanonical(bytes)).AsSpan().SequenceEqual(bytes);
        });
    }

    // A second reader: what we write, System.Text.Json reads as the same values.
    [Fact]
    public void Another_reader_sees_the_same_values()
    {
        using var other = System.Text.Json.JsonDocument.Parse(
            CanonicalJson.Write(JsonMembers.Of(("text", "a\u0001\"\\\u20ac\ud83d\ude00"), ("n", -12), ("yes", true)))
        );

        Assert.Equal("a\u0001\"\\\u20ac\ud83d\ude00", other.RootElement.GetProperty("text").GetString());
        Assert.Equal(-12, other.RootElement.GetProperty("n").GetInt64());
        Assert.True(other.RootElement.GetProperty("yes").GetBoolean());
    }

    private static string Rewrite(string json) =>
        Encoding.UTF8.GetString(CanonicalJson.Write(CanonicalJson.Parse(Encoding.UTF8.GetBytes(json))));
}
