using OtpNet;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Tests.SignIn;

/// <summary>RFC 6238 appendix B, SHA-1: the published codes have eight digits; apps show the last six of them.</summary>
public sealed class AuthenticatorCodeTests
{
    private static readonly string Key = Base32Encoding.ToString("12345678901234567890"u8.ToArray());

    [Theory]
    [InlineData(59, "94287082")]
    [InlineData(1111111109, "07081804")]
    [InlineData(1111111111, "14050471")]
    [InlineData(1234567890, "89005924")]
    [InlineData(2000000000, "69279037")]
    [InlineData(20000000000, "65353130")]
    public void The_published_codes_count_at_their_times(long seconds, string code)
    {
        var at = DateTimeOffset.FromUnixTimeSeconds(seconds);

        Assert.Equal(seconds / 30, AuthenticatorCode.StepOf(Key, code[2..], at));
        Assert.Equal(seconds / 30, AuthenticatorCode.StepOf(Key, $" {code[2..5]} {code[5..]} ", at));
    }

    [Theory]
    [InlineData(-31, false)]
    [InlineData(-30, true)]
    [InlineData(0, true)]
    [InlineData(59, true)]
    [InlineData(60, false)]
    public void One_step_before_and_one_after_are_taken_and_no_more(int secondsOff, bool counts)
    {
        // 1111111110 is the first second of its step.
        var now = DateTimeOffset.FromUnixTimeSeconds(1111111110 + secondsOff);

        Assert.Equal(counts, AuthenticatorCode.StepOf(Key, "050471", now) == 1111111110 / 30);
    }

    [Theory]
    [InlineData("14050471")]
    [InlineData("05047")]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("O5O471")]
    public void What_is_no_code_of_six_digits_counts_never(string? typed) =>
        Assert.Null(AuthenticatorCode.StepOf(Key, typed, DateTimeOffset.FromUnixTimeSeconds(1111111111)));

    [Fact]
    public void The_square_code_says_shop_account_and_key() =>
        Assert.Equal(
            "otpauth://totp/Lindhag%20Screen%20Works:ada%40lindhag.example?secret=ABCD&issuer=Lindhag%20Screen%20Works&digits=6&period=30",
            AuthenticatorCode.Address("Lindhag Screen Works", "ada@lindhag.example", "ABCD")
        );
}
