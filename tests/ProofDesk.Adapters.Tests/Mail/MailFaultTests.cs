using System.Text;
using ProofDesk.Adapters.Mail;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>What each fault at each command makes of a letter; the table of docs/running-a-server.md is this test.</summary>
public sealed class MailFaultTests(ITestOutputHelper output)
{
    private static readonly byte[] Letter = Encoding.ASCII.GetBytes(
        "From: <proofs@lindhag.example>\r\nTo: <kit@harbour.example>\r\nSubject: proof\r\nMessage-ID: <1@lindhag.example>\r\n\r\nlook\r\n"
    );

    // later = tried again; refused = bounced; paused = our settings, no letter is used up; uncertain = tried again, perhaps twice there.
    public static TheoryData<At, string[]> Outcomes =>
        new()
        {
            //            421      451      550        554        hang up      silence
            { At.Greeting, ["later", "later", "paused", "paused", "later", "later"] },
            { At.Hello, ["later", "later", "paused", "paused", "later", "later"] },
            { At.Mail, ["later", "later", "paused", "paused", "later", "later"] },
            { At.Recipient, ["later", "later", "refused", "refused", "later", "later"] },
            { At.Data, ["later", "later", "refused", "refused", "uncertain", "uncertain"] },
            { At.Dot, ["later", "later", "refused", "refused", "uncertain", "uncertain"] },
        };

    [Theory, MemberData(nameof(Outcomes))]
    public async Task Each_fault_at_each_command_has_its_outcome(At at, string[] expected)
    {
        string[] faults =
        [
            "421 closing",
            "451 try later",
            "550 no",
            "554 refused",
            ScriptedServer.HangUp,
            ScriptedServer.Silence,
        ];
        var found = new List<string>();
        foreach (var fault in faults)
        {
            await using var server = new ScriptedServer(at, fault);
            var delivery = await Server(server.Port, fault == ScriptedServer.Silence ? 1500 : 30_000)
                .SendAsync(Guid.NewGuid(), Letter, CancellationToken.None);
            var word = Word(delivery);
            found.Add(word);
            output.WriteLine($"{at, -10} {fault, -14} {word, -10} {delivery.Reply}");
            // What the server may hold is never called undelivered for good, and what it never got is never called sent.
            Assert.False(server.Taken > 0 && word is "refused" or "sent", $"{at} {fault}");
        }

        Assert.Equal(expected, found);
    }

    [Fact]
    public async Task Without_a_fault_it_is_sent_once()
    {
        await using var server = new ScriptedServer(At.Greeting, "220 scripted.example");

        var delivery = await Server(server.Port).SendAsync(Guid.NewGuid(), Letter, CancellationToken.None);

        Assert.Equal(("sent", 1), (Word(delivery), server.Taken));
    }

    private static MailServer Server(int port, int patienceMs = 30_000) =>
        new(
            new MailSettings
            {
                Host = "127.0.0.1",
                Port = port,
                Security = MailSecurity.NoneOnLoopback,
            },
            TimeSpan.FromMilliseconds(patienceMs)
        );

    private static string Word(Delivery delivery) =>
        delivery switch
        {
            Delivery.Accepted => "sent",
            Delivery.Later => "later",
            Delivery.Refused => "refused",
            Delivery.Uncertain => "uncertain",
            _ => "paused",
        };
}
