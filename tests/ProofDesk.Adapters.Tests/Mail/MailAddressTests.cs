using ProofDesk.Adapters.Mail;

namespace ProofDesk.Adapters.Tests.Mail;

public sealed class MailAddressTests
{
    [Theory]
    [InlineData("kit@harbour.example", null)]
    [InlineData("first.last+proofs@harbour.example", null)]
    [InlineData("", "the address is empty")]
    [InlineData("kit", "\"kit\" is not a mail address; one looks like name@example.com")]
    [InlineData(
        "Kim <kit@harbour.example>",
        "\"Kim <kit@harbour.example>\" is not a mail address; one looks like name@example.com"
    )]
    [InlineData(
        "a@b.example, c@d.example",
        "\"a@b.example, c@d.example\" is not a mail address; one looks like name@example.com"
    )]
    [InlineData("kit@harbour.example\nBcc: x@y.example", "the address has a line break or another control character")]
    [InlineData("kit\u202e@harbour.example", "the address has a line break or another control character")]
    public void An_address_is_usable_or_the_reason_is_said(string address, string? problem) =>
        Assert.Equal(problem, MailAddresses.Problem(address));
}
