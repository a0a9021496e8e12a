using System.Buffers.Binary;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// ITU-T T.6 (CCITT Group 4), row after row. Colour changes are found 64 pixels at a time; a row equal to the one above
/// is a string of ones. Bits leave most significant first; ink is black.
/// </summary>
public sealed class CcittG4Encoder
{
    private readonly int _width;
    private readonly ulong[] _above;
    private int[] _changes;
    private int[] _changesAbove;
    private int _countAbove;
    private byte[] _bytes = new byte[1 << 16];
    private int _length;
    private ulong _bits;
    private int _bitCount;

    public CcittG4Encoder(int width)
    {
        if (width < 1)
            throw new ArgumentException($"a row has at least 1 px; {width} given");
        _width = width;
        _above = new ulong[(width + 63) / 64];
        _changes = new int[BitChanges.Capacity(width)];
        _changesAbove = new int[BitChanges.Capacity(width)];
        Clear();
    }

    /// <summary>Starts again with a white row above and no bytes.</summary>
    public void Clear()
    {
        Array.Clear(_above);
        _changesAbove.AsSpan(0, BitChanges.Sentinels).Fill(_width);
        (_countAbove, _length, _bits, _bitCount) = (0, 0, 0, 0);
    }

    /// <summary>Adds a row; bits beyond the width must be 0, as in every <see cref="BitPlane"/>.</summary>
    public void Append(ReadOnlySpan<ulong> row)
    {
        row = row[.._above.Length];
        Reserve();
        if (row.SequenceEqual(_above))
        {
            PutOnes(_countAbove + 1);
            return;
        }
        var count = BitChanges.List(row, _width, _changes);
        Encode(_changes, _changesAbove);
        row.CopyTo(_above);
        (_changes, _changesAbove, _countAbove) = (_changesAbove, _changes, count);
    }

    /// <summary>Adds all rows of a band.</summary>
    public void Append(BitPlane band)
    {
        for (var y = 0; y < band.Height; y++)
            Append(band.Row(y));
    }

    /// <summary>Closes the block and gives its bytes; valid until the next <see cref="Clear"/> or row.</summary>
    public ReadOnlyMemory<byte> Finish()
    {
        Reserve();
        Put(CcittCodes.EndOfBlock);
        while (_bitCount > 0)
        {
            var left = _bitCount >= 8 ? _bits >> (_bitCount - 8) : _bits << (8 - _bitCount);
            _bytes[_length++] = (byte)(left & 0xFF);
            _bitCount = Math.Max(0, _bitCount - 8);
        }
        return _bytes.AsMemory(0, _length);
    }

    /// <summary>
    /// T.6, 2.2.1.3: a0 is the last pixel coded, a1 and a2 the next changes of this row, b1 the first change of the row
    /// above right of a0 to the colour opposite of a0's, b2 the next one. Even entries of a list change to black.
    /// </summary>
    private void Encode(int[] changes, int[] above)
    {
        unchecked
        {
            int a0 = -1,
                a = 0,
                b = 0;
            do
            {
                while (above[b] <= a0)
                    b += 2;
                var (a1, b1) = (changes[a], above[b]);
                var distance = a1 - b1 + 3;
                if (above[b + 1] < a1)
                {
                    Put(CcittCodes.Pass);
                    a0 = above[b + 1];
                }
                else if ((uint)distance <= 6)
                {
                    Put(CcittCodes.Vertical[distance]);
                    a0 = a1;
                    a++;
                    // The other colour's changes: from the one before, for it may lie right of a0 already.
                    b = b > 0 ? b - 1 : 1;
                }
                else
                {
                    var a2 = changes[a + 1];
                    Put(CcittCodes.Horizontal);
                    var (first, second) =
                        (a & 1) == 0 ? (CcittCodes.White, CcittCodes.Black) : (CcittCodes.Black, CcittCodes.White);
                    PutRun(first, a1 - Math.Max(0, a0));
                    PutRun(second, a2 - a1);
                    a0 = a2;
                    a += 2;
                }
            } while (a0 < _width);
        }
    }

    private void PutRun(CcittCodes.Code[] codes, int run)
    {
        for (; run >= 2560 + 64; run -= 2560)
            Put(codes[^1]);
        if (run >= 64)
            Put(codes[63 + (run >> 6)]);
        Put(codes[run & 63]);
    }

    private void PutOnes(int count)
    {
        for (; count >= 24; count -= 24)
            Put(new(0xFFFFFF, 24));
        if (count > 0)
            Put(new((1 << count) - 1, count));
    }

    private void Put(CcittCodes.Code code)
    {
        unchecked
        {
            _bits = _bits << code.Length | (uint)code.Bits;
            _bitCount += code.Length;
            if (_bitCount < 32)
                return;
            _bitCount -= 32;
            BinaryPrimitives.WriteUInt32BigEndian(_bytes.AsSpan(_length), (uint)(_bits >> _bitCount));
            _length += 4;
        }
    }

    /// <summary>
    /// Room for a row: the dearest one alternates single pixels, 12 bits for two of them, so a byte a pixel is ample; and
    /// long runs need at most 13 bits for 2,560 pixels.
    /// </summary>
    private void Reserve()
    {
        if (_bytes.Length - _length < _width + 64)
            Array.Resize(ref _bytes, checked(Math.Max(_bytes.Length * 2, _length + _width + 64)));
    }
}
