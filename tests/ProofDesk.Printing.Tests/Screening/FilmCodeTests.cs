using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Tests.Screening;

public sealed class FilmCodeTests
{
    [Theory]
    [InlineData("1001/front/3/2/3F2A-91C0")]
    [InlineData("1001/left chest/12/10/0000-FFFF")]
    [InlineData("1001/back / upper/3/2/3F2A-91C0")]
    public void A_code_reads_back_as_it_was_written(string text) => Assert.Equal(text, FilmCode.Parse(text)?.Text);

    [Fact]
    public void Small_letters_and_blanks_around_it_are_mended() =>
        Assert.Equal("1001/front/3/2/3F2A-91C0", FilmCode.Parse(" 1001/front/3/2/3f2a-91c0\n")?.Text);

    [Theory]
    [InlineData("")]
    [InlineData("front/3/2/3F2A-91C0")]
    [InlineData("1001/front/3/0/3F2A-91C0")]
    [InlineData("1001/front/3/two/3F2A-91C0")]
    [InlineData("1001/front/3/2/3F2A91C0")]
    [InlineData("1001/front/3/2/3G2A-91C0")]
    [InlineData("https://example.com/a/b/c/d")]
    public void Other_texts_are_no_code(string text) => Assert.Null(FilmCode.Parse(text));
}
