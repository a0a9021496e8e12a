using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Log;

public sealed class SignedNoteTests
{
    // c2sp.org/signed-note v1.1.0, section "Verifier keys", Example: key and note.
    private const string PublishedKey = "example.com/foo+530d903a+AekyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k";

    private const string PublishedNote =
        "This is an example message.\n\n\u2014 example.com/foo Uw2QOkn8srV1yJGh2VYRlL1Tnagv1YEq6TfXppzi2ONncAlTgK7Ztg1ERYNZXsYjOBH3mFXmRKuwHjG1Yu72IneyaQM=\n";

    // golang.org/x/mod/sumdb/note, package documentation: private key, key and note.
    private const string OtherSeed = "YEKFALVFGyNhPJEMzD1QIDr+Y7hfZx09iUvxdXHKDFz";
    private const string OtherKey = "PeterNeumann+c74f20a3+ARpc2QcUPDhMQegwxbzhKqiBfsVkmqq/LDE4izWy10TW";
    private const string OtherText =
        "If you think cryptography is the answer to your problem,\nthen you don't know what your problem is.\n";

    private const string OtherNote =
        OtherText
        + "\n\u2014 PeterNeumann x08go/ZJkuBS9UG/SffcvIAQxVBtiFupLLr8pAcElZInNIuGUgYN1FFYC2pZSNXgKvqfqdngotpRZb6KE6RyyBwJnAM=\n";

    [Theory]
    [InlineData(PublishedKey)]
    [InlineData(OtherKey)]
    public void Published_keys_read_back_as_they_were_written(string vkey) =>
        Assert.Equal(vkey, VerifierKey.Parse(vkey).ToString());

    [Fact]
    public void The_published_example_of_the_format_verifies()
    {
        var opened = SignedNote.Open(PublishedNote, [VerifierKey.Parse(PublishedKey)]);

        Assert.Equal("This is an example message.\n", opened.Text);
        Assert.Equal(PublishedKey, Assert.Single(opened.Signers).ToString());
        Assert.Equal(0, opened.Ignored);
    }

    [Fact]
    public void The_published_private_key_signs_the_published_note_byte_for_byte()
    {
        // "A" and the rest: one type byte and the 32 bytes of the seed.
        var key = new SigningKey("PeterNeumann", Convert.FromBase64String("A" + OtherSeed).AsSpan(1));

        Assert.Equal(OtherKey, key.Verifier.ToString());
        Assert.Equal(OtherNote, SignedNote.Sign(OtherText, key));
    }

    [Fact]
    public void Signatures_of_unknown_keys_are_ignored()
    {
        var note = SignedNote.Sign("text\n", Samples.Key, new SigningKey("witness.example", Samples.Bytes(32, 1)));

        var opened = SignedNote.Open(note, [Samples.Key.Verifier]);

        Assert.Equal(Samples.Key.Verifier, Assert.Single(opened.Signers));
        Assert.Equal(1, opened.Ignored);
    }

    [Fact]
    public void One_known_key_that_fails_rejects_the_note()
    {
        var witness = new SigningKey("witness.example", Samples.Bytes(32, 1));
        var good = SignedNote.Sign("text\n", Samples.Key);
        var bad = SignedNote.Sign("other\n", witness).Split("\n\n")[1];

        Assert.Equal(
            $"the signature of witness.example+{witness.Verifier.Id:x8} does not fit the text",
            Assert
                .Throws<RecordFormatException>(() =>
                    SignedNote.Open(good + bad, [Samples.Key.Verifier, witness.Verifier])
                )
                .Message
        );
    }

    [Fact]
    public void A_note_nobody_known_signed_is_rejected() =>
        Assert.Equal(
            "no known key signed the note (1 signatures: example.com/foo+530d903a)",
            Assert.Throws<RecordFormatException>(() => SignedNote.Open(PublishedNote, [Samples.Key.Verifier])).Message
        );

    [Fact]
    public void A_key_of_the_same_name_is_another_key()
    {
        var namesake = new SigningKey(Samples.Origin, Samples.Bytes(32, 3));

        Assert.Throws<RecordFormatException>(() =>
            SignedNote.Open(SignedNote.Sign("text\n", namesake), [Samples.Key.Verifier])
        );
    }

    [Fact]
    public void Text_with_empty_lines_ends_at_the_last_empty_line() =>
        Assert.Equal(
            "a\n\nb\n",
            SignedNote.Open(SignedNote.Sign("a\n\nb\n", Samples.Key), [Samples.Key.Verifier]).Text
        );

    [Theory]
    [InlineData(
        "example.com/foo+530d903b+AekyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k",
        "says key id 530d903b, its name and key give 530d903a"
    )]
    [InlineData(
        "example.com/foo+530d903a+BOkyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k",
        "has signature type 4; only 1 (Ed25519) is known here"
    )]
    [InlineData(
        "example.com/foo+530d903a",
        "is not a key: expected NAME+KEYID+BASE64 of one type byte and 32 key bytes"
    )]
    public void A_key_that_does_not_fit_itself_is_refused(string vkey, string what) =>
        Assert.Equal($"'{vkey}' {what}", Assert.Throws<RecordFormatException>(() => VerifierKey.Parse(vkey)).Message);

    [Fact]
    public void Base64_with_stray_bits_is_refused()
    {
        // The last digit before '=' holds two bits that mean nothing; another digit there would be another spelling.
        var bent = PublishedNote.Replace("yaQM=", "yaQN=", StringComparison.Ordinal);

        Assert.Throws<RecordFormatException>(() => SignedNote.Open(bent, [VerifierKey.Parse(PublishedKey)]));
    }

    [Fact]
    public void Control_characters_are_refused() =>
        Assert.Throws<RecordFormatException>(() => SignedNote.Sign("a\tb\n", Samples.Key));

    [Fact]
    public void More_signatures_than_the_limit_are_refused()
    {
        var note =
            "text\n\n" + string.Concat(Enumerable.Repeat(SignedNote.Sign("text\n", Samples.Key).Split("\n\n")[1], 65));

        Assert.Equal(
            "the note has 65 signatures, must be 1 to 64",
            Assert.Throws<RecordFormatException>(() => SignedNote.Open(note, [Samples.Key.Verifier])).Message
        );
    }

    [Fact]
    public void Every_changed_byte_of_a_note_rejects_it()
    {
        var note = System.Text.Encoding.UTF8.GetBytes(PublishedNote);
        VerifierKey[] known = [VerifierKey.Parse(PublishedKey)];
        for (var i = 0; i < note.Length; i++)
        {
            byte[] bent = [.. note];
            bent[i] ^= 1;
            Assert.Throws<RecordFormatException>(() =>
                SignedNote.Open(System.Text.Encoding.UTF8.GetString(bent), known)
            );
        }
    }
}
