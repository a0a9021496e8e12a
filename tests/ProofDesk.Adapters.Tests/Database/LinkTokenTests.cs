using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class LinkTokenTests
{
    [Fact]
    public void Ten_thousand_tokens_are_whole_distinct_and_safe_in_an_address()
    {
        var tokens = Enumerable.Range(0, 10_000).Select(_ => LinkToken.New()).ToList();

        Assert.Equal(tokens.Count, tokens.Distinct().Count());
        Assert.All(tokens, token => Assert.Matches("^[A-Za-z0-9_-]{47}$", token));
        Assert.All(tokens, token => Assert.True(LinkToken.IsWhole(token)));
    }

    [Fact]
    public void One_character_changed_anywhere_is_noticed()
    {
        var token = LinkToken.New();

        for (var at = 0; at < token.Length; at++)
        {
            var other = token[at] == 'A' ? 'B' : 'A';
            Assert.False(LinkToken.IsWhole(token[..at] + other + token[(at + 1)..]), $"character {at}");
        }
    }
}
