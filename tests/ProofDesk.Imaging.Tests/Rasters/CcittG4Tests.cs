using CsCheck;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class CcittG4Tests
{
    private static readonly Gen<BitPlane> Planes =
        from width in Gen.Frequency(
            (1, Gen.Int[0, 6].Select(i => new[] { 1, 2, 63, 64, 65, 127, 128 }[i])),
            (3, Gen.Int[1, 700])
        )
        from height in Gen.Int[1, 12]
        from share in Gen.Int[0, 8]
        from run in Gen.Int[1, 80]
        from seed in Gen.ULong
        select TestPlanes.Noise(width, height, share / 8.0, run, seed);

    [Fact]
    public void Every_plane_comes_back_as_it_was() => Planes.Sample(AssertComesBack, iter: 1000);

    [Fact]
    public void Every_run_length_comes_back_in_both_colours()
    {
        // Single runs of every length up to beyond the longest make-up code, at the start and after one pixel.
        var plane = new BitPlane(5700, 2 * 2700);
        for (var run = 0; run < 2700; run++)
        {
            BitRows.FillRun(plane.Row(2 * run), 0, run);
            BitRows.FillRun(plane.Row(2 * run + 1), run, 2 * run);
        }

        AssertComesBack(plane);
    }

    [Fact]
    public void Rows_equal_to_the_one_above_cost_one_bit_a_change()
    {
        var encoder = new CcittG4Encoder(640);
        var row = new ulong[10];
        BitRows.FillRun(row, 100, 200);
        encoder.Append(row);
        var one = encoder.Finish().Length;
        encoder.Clear();

        for (var y = 0; y < 801; y++)
            encoder.Append(row);

        // Two changes and the end of the row: 3 bits.
        Assert.Equal(one + 800 * 3 / 8, encoder.Finish().Length);
    }

    [Fact]
    public void A_damaged_block_is_refused_or_read_but_never_read_past_its_end()
    {
        var gen =
            from plane in Planes
            from at in Gen.Int[0, 4000]
            from value in Gen.Byte
            from cut in Gen.Int[0, 40]
            select (plane, at, value, cut);

        gen.Sample(
            (plane, at, value, cut) =>
            {
                var bytes = Encoded(plane);
                bytes[at % bytes.Length] = value;
                var decoder = new CcittG4Decoder(bytes.AsMemory(0, Math.Max(0, bytes.Length - cut)), plane.Width);
                var row = new ulong[plane.Stride];
                try
                {
                    for (var y = 0; y < plane.Height; y++)
                    {
                        decoder.Read(row);
                        var inside = row.ToArray();
                        BitRows.ClearBeyond(inside, plane.Width);
                        Assert.Equal(inside, row);
                    }
                }
                catch (InvalidDataException refused)
                {
                    Assert.StartsWith("Group 4 data: ", refused.Message, StringComparison.Ordinal);
                }
            },
            iter: 2000
        );
    }

    [Fact]
    public void A_block_that_ends_too_early_says_so()
    {
        var plane = new BitPlane(8, 1);
        var decoder = new CcittG4Decoder(Encoded(plane), 8);
        decoder.Read(plane);

        var refused = Assert.Throws<InvalidDataException>(() => decoder.Read(plane));

        Assert.Equal(
            "Group 4 data: no mode starts with these bits (row 1, bit 1); the file is damaged, export it again",
            refused.Message
        );
    }

    [Fact]
    public void No_code_word_begins_another()
    {
        AssertPrefixFree([.. CcittCodes.White, CcittCodes.EndOfBlock]);
        AssertPrefixFree([.. CcittCodes.Black, CcittCodes.EndOfBlock]);
        AssertPrefixFree([.. CcittCodes.Vertical, CcittCodes.Pass, CcittCodes.Horizontal, CcittCodes.EndOfBlock]);
    }

    private static void AssertPrefixFree(CcittCodes.Code[] codes)
    {
        foreach (var (a, i) in codes.Select((c, i) => (c, i)))
        foreach (var (b, j) in codes.Select((c, i) => (c, i)))
            if (i != j && a.Length <= b.Length)
                Assert.NotEqual(a.Bits, b.Bits >> (b.Length - a.Length));
    }

    private static byte[] Encoded(BitPlane plane)
    {
        var encoder = new CcittG4Encoder(plane.Width);
        encoder.Append(plane);
        return encoder.Finish().ToArray();
    }

    private static void AssertComesBack(BitPlane plane)
    {
        var decoder = new CcittG4Decoder(Encoded(plane), plane.Width);
        var back = new BitPlane(plane.Width, plane.Height);
        decoder.Read(back);
        decoder.ReadEnd();
        Assert.Equal(plane.Words, back.Words);
    }
}
