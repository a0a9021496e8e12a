namespace ProofDesk.Approvals.Packets;

/// <summary>The check sum of ZIP (polynomial 0xEDB88320, APPNOTE.TXT section 4.4.7). It finds accidents; digests find intent.</summary>
internal struct Crc32
{
    private static readonly uint[] Table = MakeTable();

    private uint register;

    public readonly uint Value => register;

    public void Add(ReadOnlySpan<byte> data)
    {
        var crc = ~register;
        foreach (var b in data)
        {
            crc = Table[(crc & 0xFF) ^ b] ^ (crc >> 8);
        }

        register = ~crc;
    }

    private static uint[] MakeTable()
    {
        var table = new uint[256];
        for (uint n = 0; n < 256; n++)
        {
            var c = n;
            for (var k = 0; k < 8; k++)
            {
                c = (c & 1) == 1 ? 0xEDB88320 ^ (c >> 1) : c >> 1;
            }

            table[n] = c;
        }

        return table;
    }
}
