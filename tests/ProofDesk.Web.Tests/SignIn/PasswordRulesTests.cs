using ProofDesk.Adapters.Database;
using ProofDesk.Web.SignIn;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Tests.SignIn;

public sealed class PasswordRulesTests
{
    private static readonly StaffUser Kim = new() { Email = "kim.reed@lindhag.example", DisplayName = "Kim Reed" };
    private static readonly PasswordRules Rules = new(new ServerSettings { ShopName = "Lindhag Screen Works" });

    [Theory]
    [InlineData("oars and four plain words")]
    [InlineData("the reed by the river bends")]
    [InlineData("Lindhag prints on wet mornings")]
    [InlineData("пять слов о старой лодке")]
    public void Plain_words_are_good(string password) => Assert.Null(Rules.Why(password, Kim));

    [Theory]
    [InlineData("aaaaaaaaaaaaaaaaaaaa", "over and over")]
    [InlineData("abcabcabcabcabcabc", "over and over")]
    [InlineData("!!!!! ..... ----- ???", "over and over")]
    [InlineData("12345678901234567", "row of the keyboard")]
    [InlineData("qwertyuiopasdfgh", "row of the keyboard")]
    [InlineData("zyxwvutsrqponmlkjih", "row of the keyboard")]
    [InlineData("LindhagScreenWorks2026", "\"lindhagscreenworks\", which anybody would try, 4 letters")]
    [InlineData("kim.reed kim.reed", "\"kimreed\", which anybody would try, 0 letters")]
    [InlineData("kimreed-2026-2026", "\"kimreed\", which anybody would try, 8 letters")]
    [InlineData("Password12345678", "\"password\", which anybody would try, 8 letters")]
    public void What_a_guesser_tries_first_is_refused(string password, string why) =>
        Assert.Contains(why, Rules.Why(password, Kim) ?? "taken");
}
