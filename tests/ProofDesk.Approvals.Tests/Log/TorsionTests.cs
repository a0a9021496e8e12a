using System.Text;
using System.Text.Json;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Tests.Packets;

namespace ProofDesk.Approvals.Tests.Log;

/// <summary>
/// Notes over which verifiers are known to differ (tests/Vectors/notes.json, made by torsion_notes.py): keys and nonces outside the
/// group of prime order, a number S not below its order, points written a second way. Ours refuse each, in the same words.
/// </summary>
public sealed class TorsionTests
{
    /// <summary>A line of notes.json.</summary>
    private sealed record Entry(string Name, bool Valid, string Key, string Note);

    [Fact]
    public void Only_the_honest_note_is_taken()
    {
        var notes = Notes();

        Assert.Equal(31, notes.Count);
        Assert.All(notes, note => Assert.Equal((note.Name, note.Valid), (note.Name, Ours(note) == "yes")));
        Assert.Single(notes, note => note.Valid);
    }

    [SkippableFact]
    public void The_page_answers_alike()
    {
        var notes = Notes();
        var said = JavaScript.Run(
            "check-notes.mjs",
            notes.Select(note => JsonSerializer.Serialize(note, JsonSerializerOptions.Web))
        );

        Assert.Equal(notes.Select(note => $"{note.Name}: {Ours(note)}"), notes.Zip(said, (n, s) => $"{n.Name}: {s}"));
    }

    // Go follows the equation of RFC 8032 without the factor 8 and checks no group: what it takes beyond ours is written down here.
    [SkippableFact]
    public void Another_implementation_takes_none_that_only_the_factor_or_a_large_number_would_make_valid()
    {
        var notes = Notes();
        var answers = GoTests.Ask(notes.Select(Question));

        var taken = notes.Zip(answers).Where(pair => pair.Second == "yes").Select(pair => pair.First.Name).ToList();

        Assert.Contains("an honest key", taken);
        Assert.All(
            taken,
            name =>
                Assert.True(
                    name == "an honest key"
                        || name.StartsWith("a key of small order", StringComparison.Ordinal)
                        || name.EndsWith("challenge divisible by 8", StringComparison.Ordinal)
                        // Right by the equation; no honest signer makes such a nonce.
                        || name == "an honest key, a nonce of small order, 0 of 8",
                    name
                )
        );
    }

    private static string Ours(Entry note)
    {
        try
        {
            SignedNote.Open(note.Note, [VerifierKey.Parse(note.Key)]);
            return "yes";
        }
        catch (RecordFormatException wrong)
        {
            return $"no: {wrong.Message}";
        }
    }

    private static string Question(Entry note)
    {
        var text = note.Note[..(note.Note.LastIndexOf("\n\n", StringComparison.Ordinal) + 1)];
        return $"note {Base64(note.Note)} {note.Key} {Base64(text)}";
    }

    private static string Base64(string text) => Convert.ToBase64String(Encoding.UTF8.GetBytes(text));

    private static List<Entry> Notes() =>
        JsonSerializer.Deserialize<List<Entry>>(
            File.ReadAllBytes(Path.Combine(JavaScript.Vectors, "notes.json")),
            JsonSerializerOptions.Web
        )!;
}
