using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class ProofConfidenceTests
{
    // [PHYSICS] 1.23.
    [Theory]
    [InlineData(DataClass.A, DataClass.A, 2, 3)]
    [InlineData(DataClass.A, DataClass.B, 4, 6)]
    [InlineData(DataClass.B, DataClass.B, 4, 6)]
    [InlineData(DataClass.C, DataClass.A, 6, 12)]
    [InlineData(DataClass.B, DataClass.C, 6, 12)]
    public void The_worse_known_of_ink_and_cloth_decides(DataClass inks, DataClass cloth, double from, double to)
    {
        var confidence = ProofConfidence.Of(inks, cloth);

        Assert.Equal((from, to), (confidence.FromDeltaE, confidence.ToDeltaE));
    }

    [Fact]
    public void It_says_in_words_what_it_rests_on()
    {
        Assert.Equal(
            "the print is expected within 6 to 12 dE00 of this proof: inks by default of the trade (C), cloth from one measurement (B)",
            ProofConfidence.Of(DataClass.C, DataClass.B).Text
        );
        Assert.Equal(
            "the print is expected within 2 to 3 dE00 of this proof: inks measured (A), cloth measured (A)",
            ProofConfidence.Of(DataClass.A, DataClass.A).Text
        );
    }
}
