using System.Text;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Rosters;

namespace ProofDesk.Printing.Tests.Rosters;

/// <summary>Lists of names and numbers: what is read and what is said of mistakes.</summary>
public sealed class RosterFileTests
{
    private static RosterReading Read(string text) => RosterFile.Read(Encoding.UTF8.GetBytes(text), "team.csv");

    private static string Only(string text)
    {
        var reading = Read(text);
        Assert.Null(reading.Roster);
        return Assert.Single(reading.Findings, f => f.Weight == FindingWeight.Refusal).Message;
    }

    // RFC 4180, 2.5 to 2.7.
    [Fact]
    public void Quoted_fields_hold_commas_quotes_and_line_ends()
    {
        var roster = Read(
            "number,name,size\r\n7,\"O'Neil\",\"L, tall\"\r\n\r\n10,Åström,\"M \"\"slim\"\"\nfit\"\r\n"
        ).Roster!;

        Assert.Equal(
            [new(2, "O'NEIL", "7", "L, tall", ""), new RosterEntry(4, "ÅSTRÖM", "10", "M \"slim\"\nfit", "")],
            roster.Entries.AsEnumerable()
        );
    }

    [Fact]
    public void A_byte_order_mark_and_semicolons_are_taken_as_they_come()
    {
        var roster = Read("\uFEFFName;Number;Garment colour\n Müller ;00;black\n").Roster!;

        Assert.Equal([new RosterEntry(2, "MÜLLER", "00", "", "black")], roster.Entries.AsEnumerable());
    }

    [Theory]
    [InlineData("", "team.csv: the list is empty")]
    [InlineData("name,number\n", "team.csv: the list has no line below its columns")]
    [InlineData("player,size\nA,L\n", "team.csv, line 1: the columns are player, size, a name or a number is needed")]
    [InlineData("name,number,name\nA,1,B\n", "team.csv, line 1: the column name is there twice")]
    [InlineData("name,number\nA,1\nB\n", "team.csv, line 3: 1 fields, the first line names 2")]
    [InlineData("name,number\nA,1\n\"B,2\n", "team.csv, line 3: a quotation mark is not closed")]
    [InlineData("name,number\nA,1\n,\n", "team.csv, line 3, name: neither a name nor a number")]
    [InlineData("name,number\nA,1\nB,12a\n", "team.csv, line 3, number: \"12a\" is not a number of one to 3 digits")]
    [InlineData("name,number\nA,1\nB,1234\n", "team.csv, line 3, number: \"1234\" is not a number of one to 3 digits")]
    [InlineData("name,number\nΑχιλλεύς,1\n", "team.csv, line 2, name: \"Α\" in \"ΑΧΙΛΛΕΎΣ\" cannot be set")]
    [InlineData(
        "name\nAnna-Karolina von Adlerkreutz\n",
        "team.csv, line 2, name: \"ANNA-KAROLINA VON ADLERKREUTZ\" has 29 letters, 24 are set at most"
    )]
    [InlineData("name,number,size\nA,1,L\nB,2,L\nA,1,L\n", "team.csv, line 4: the same as line 2")]
    public void A_mistake_is_said_with_file_line_and_field(string text, string message) =>
        Assert.Equal(message, Only(text));

    [Fact]
    public void Another_encoding_is_said_with_line_and_byte()
    {
        var reading = RosterFile.Read(Encoding.Latin1.GetBytes("name,number\nAnna,1\nÅström,2\n"), "team.csv");

        Assert.Equal(
            "team.csv, line 3: byte 0xC5 is not UTF-8, the list is saved in another encoding",
            Assert.Single(reading.Findings).Message
        );
        Assert.Equal(
            "team.csv: the list is UTF-16, UTF-8 is read",
            Assert.Single(RosterFile.Read([0xFF, 0xFE, 0x41, 0], "team.csv").Findings).Message
        );
    }

    [Fact]
    public void All_mistakes_are_said_at_once_and_a_number_twice_is_a_warning()
    {
        var wrong = Read("name,number\nA,x\n,\nB,12a\n");
        var shared = Read("name,number\nAnna,7\nBo,7\n");

        Assert.Equal(3, wrong.Findings.Length);
        Assert.NotNull(shared.Roster);
        var warning = Assert.Single(shared.Findings);
        Assert.Equal(FindingWeight.Warning, warning.Weight);
        Assert.Equal("team.csv, line 3, number: 7 is on line 2 too, for ANNA", warning.Message);
    }
}
