using System.Collections.Immutable;
using System.Reflection;
using MimeKit;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;
using ProofDesk.HostileText;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Mail;

/// <summary>
/// Hostile text in everything a letter is made of, at once, forms passed by: each letter we write, as a mail program reads it
/// (portal M8). All 2,000 strings with PROOFDESK_LONG=1.
/// </summary>
public sealed class HostileLetterTests(ITestOutputHelper output)
{
    private const string Server = "https://proofs.lindhag.example";
    private const string Digest = "7d865e959b2466918c9863afca942d0fb89d7c9ac0c99bafc3749504ded97730";
    private const string Mailbox = "ida@client.example";
    private static readonly DateTimeOffset Now = new(2026, 5, 4, 10, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Text_stays_text_in_every_letter()
    {
        var kinds = typeof(Letters)
            .GetMethods(BindingFlags.Public | BindingFlags.Static)
            .Where(m => m.ReturnType == typeof(Letter))
            .ToList();
        Assert.True(kinds.Count >= 11, $"{kinds.Count} kinds of letters");
        var strings = LongCounts.Asked ? HostileStrings.All : HostileStrings.Sample(66);
        var faults = new List<string>();
        foreach (var hostile in strings)
        {
            var text = HostileForm.AsRead(hostile.Text);
            foreach (var kind in kinds)
            {
                var letter = (Letter)kind.Invoke(null, [.. kind.GetParameters().Select(p => Argument(p, text))])!;
                using var read = Sent(letter, text);
                var found = ForeignInLetters.In(read, Server).ToList();
                if (Plain(read.TextBody ?? "") != Plain(letter.Text))
                    found.Add("the text is another");
                if (!Plain(read.Subject ?? "").Contains(Plain(letter.Subject), StringComparison.Ordinal))
                    found.Add("the subject is another: " + read.Subject);
                faults.AddRange(found.Select(f => $"{kind.Name} {hostile.Number} ({hostile.Kind}): {f}"));
            }
        }
        output.WriteLine($"{strings.Count} strings in {kinds.Count} kinds of letters: {faults.Count} faults");

        Assert.True(faults.Count == 0, string.Join('\n', faults.Take(40)));
    }

    [Fact]
    public void A_letter_that_forgets_to_encode_is_found()
    {
        var text = HostileStrings.All.First(s => s.Kind == "handlers").Text;

        using var read = Sent(new("Proof", text, $"<!DOCTYPE html><p>{text}</p>"), "Lindhag");

        Assert.NotEmpty(ForeignInLetters.In(read, Server));
    }

    private static MimeMessage Sent(Letter letter, string shopName)
    {
        var mail = new OutboxMail
        {
            Kind = "invitation",
            Recipient = Mailbox,
            Subject = letter.Subject,
            OrderId = Guid.CreateVersion7(),
        };
        var shop = new ShopSettings { Name = shopName, ReplyTo = shopName };
        return MimeMessage.Load(new MemoryStream(MimeMaker.Make(letter, mail, shop, new(), Now, [])));
    }

    // Blanks and ends of lines are no part of what somebody reads.
    private static string Plain(string text) => string.Concat(text.Where(c => !char.IsWhiteSpace(c) && c != '\0'));

    private static object? Argument(ParameterInfo parameter, string hostile) =>
        parameter.ParameterType == typeof(string)
            && parameter.Name!.Contains("link", StringComparison.OrdinalIgnoreCase)
        || parameter.Name == "stop"
            ? Server + "/r/some-token"
        : parameter.ParameterType == typeof(string) ? hostile
        : parameter.ParameterType == typeof(LinkRecipient) ? new LinkRecipient(Mailbox, hostile)
        : parameter.ParameterType == typeof(SealedLeaf) ? new SealedLeaf(7, Now, hostile, hostile)
        : parameter.ParameterType == typeof(DateTimeOffset) ? Now
        : parameter.ParameterType == typeof(int) ? 2
        : parameter.ParameterType == typeof(bool) ? true
        : Filled(parameter.ParameterType, hostile);

    // Every text of a row is hostile, but for the server's own address and what is counted from bytes.
    private static object Filled(Type type, string hostile)
    {
        var row = Activator.CreateInstance(type)!;
        foreach (var property in type.GetProperties().Where(p => p.CanWrite))
        {
            if (property.PropertyType == typeof(string))
                property.SetValue(row, property.Name.EndsWith("Sha256", StringComparison.Ordinal) ? Digest : hostile);
            if (property.PropertyType == typeof(DateOnly?))
                property.SetValue(row, new DateOnly(2026, 5, 8));
        }
        if (row is ShopSettings shop)
            shop.PublicBaseUrl = Server;
        if (row is Decision decision)
            decision.StatementBytes = Statement(hostile);
        return row;
    }

    // What a statement may not hold never gets into a letter by it.
    private static byte[] Statement(string hostile)
    {
        try
        {
            return Saying(hostile);
        }
        catch (RecordFormatException)
        {
            return Saying("as it is");
        }
    }

    private static byte[] Saying(string words) =>
        StatementJson.Write(
            new(
                DecisionKind.Changes,
                Sha256Digest.Of("manifest"u8),
                Sha256Digest.Of("text"u8),
                "en",
                Confirmations.None,
                words,
                Mailbox,
                new(EvidenceLevel.Link, "a-link"),
                [new("word: HARBOUR", words)],
                null,
                words,
                Now,
                "nonce",
                [.. new byte[32]]
            )
        );
}
