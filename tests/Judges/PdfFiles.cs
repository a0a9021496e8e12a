using System.Globalization;
using System.Text;

namespace ProofDesk.Judges;

/// <summary>Pages as general programs make them from our own drawings, and pages nobody would make.</summary>
internal sealed class PdfFiles : IDisposable
{
    /// <summary>What every drawing may say: "(Name) c m y k SPOT" sets a spot colour at full strength, TINT the share of it.</summary>
    private const string Prologue = """
        %!PS
        /SPOT { /kk exch def /yy exch def /mm exch def /cc exch def cvn /nn exch def
          [/Separation nn /DeviceCMYK [/dup cvx cc /mul cvx /exch cvx /dup cvx mm /mul cvx /exch cvx /dup cvx yy /mul cvx /exch cvx kk /mul cvx] cvx bind]
          setcolorspace 1 setcolor } def
        /TINT { setcolor } def
        /DISC { 0 360 arc fill } def

        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-pdf-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    public string Path(string name) => System.IO.Path.Combine(_folder, name);

    /// <summary>A drawing in PostScript, distilled by Ghostscript; 300 x 400 points unless it says otherwise.</summary>
    public string Distilled(string drawing, string name = "art.pdf", params string[] options)
    {
        var from = Path(name + ".ps");
        File.WriteAllText(
            from,
            Prologue + "<< /PageSize [300 400] >> setpagedevice\n" + drawing + "\nshowpage\n",
            Encoding.Latin1
        );
        var to = Path(name);
        Programs.Run(
            "gs",
            ["-q", "-dSAFER", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pdfwrite", "-sOutputFile=" + to, .. options, from]
        );
        return to;
    }

    /// <summary>A file written by hand: the objects in order, the first the catalogue.</summary>
    public static byte[] Raw(params string[] objects)
    {
        var file = new StringBuilder("%PDF-1.7\n");
        var offsets = new List<int>();
        for (var i = 0; i < objects.Length; i++)
        {
            offsets.Add(file.Length);
            file.Append(CultureInfo.InvariantCulture, $"{i + 1} 0 obj\n{objects[i]}\nendobj\n");
        }
        var table = file.Length;
        file.Append(CultureInfo.InvariantCulture, $"xref\n0 {objects.Length + 1}\n0000000000 65535 f \n");
        foreach (var offset in offsets)
            file.Append(CultureInfo.InvariantCulture, $"{offset:0000000000} 00000 n \n");
        file.Append(
            CultureInfo.InvariantCulture,
            $"trailer\n<< /Size {objects.Length + 1} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n"
        );
        return Encoding.Latin1.GetBytes(file.ToString());
    }

    /// <summary>One page of 200 x 100 points, written by hand.</summary>
    /// <param name="page">More entries of the page.</param>
    /// <param name="catalogue">More entries of the catalogue.</param>
    public static byte[] OnePage(
        string content,
        string page = "",
        string catalogue = "",
        string media = "[0 0 200 100]",
        params string[] more
    ) =>
        Raw([
            $"<< /Type /Catalog /Pages 2 0 R {catalogue} >>",
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            $"<< /Type /Page /Parent 2 0 R /MediaBox {media} /Contents 4 0 R {page} >>",
            Stream(content),
            .. more,
        ]);

    public static string Stream(string content, string entries = "") =>
        $"<< /Length {content.Length} {entries} >>\nstream\n{content}\nendstream";
}
