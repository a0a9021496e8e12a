using System.Globalization;
using System.Text;

namespace ProofDesk.Printing.Proofs;

/// <summary>Numbered objects, one after the other, and the table that says where each begins (ISO 32000-1, 7.5).</summary>
internal sealed class PdfObjects
{
    private readonly Stream _stream;
    private readonly List<long> _offsets = [];
    private long _written;

    public PdfObjects(Stream stream)
    {
        _stream = stream;
        Put("%PDF-1.7\n%\u00E2\u00E3\u00CF\u00D3\n");
    }

    public void Add(string body)
    {
        Begin();
        Put(body);
        Put("\nendobj\n");
    }

    /// <summary>A stream; its length is added to the dictionary, which must end in ">>".</summary>
    public void Add(string dictionary, byte[] data)
    {
        Begin();
        Put($"{dictionary[..^2]}/Length {data.Length} >>\nstream\n");
        _stream.Write(data);
        _written += data.Length;
        Put("\nendstream\nendobj\n");
    }

    public void Finish(int root, int info)
    {
        var table = _written;
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"xref\n0 {_offsets.Count + 1}\n0000000000 65535 f \n");
        foreach (var offset in _offsets)
            text.Append(CultureInfo.InvariantCulture, $"{offset:0000000000} 00000 n \n");
        text.Append(
            CultureInfo.InvariantCulture,
            $"trailer\n<< /Size {_offsets.Count + 1} /Root {root} 0 R /Info {info} 0 R >>\nstartxref\n{table}\n%%EOF\n"
        );
        Put(text.ToString());
    }

    private void Begin()
    {
        _offsets.Add(_written);
        Put(string.Create(CultureInfo.InvariantCulture, $"{_offsets.Count} 0 obj\n"));
    }

    private void Put(string text)
    {
        var bytes = Encoding.Latin1.GetBytes(text);
        _stream.Write(bytes);
        _written += bytes.Length;
    }
}
