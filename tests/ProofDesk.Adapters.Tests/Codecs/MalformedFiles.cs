using System.Buffers.Binary;
using System.Diagnostics;
using System.Text;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>
/// Files of no honest program, each from its number: a grammar of our own, honest files changed at random places, and zzuf where it is
/// installed.
/// </summary>
internal sealed class MalformedFiles(IReadOnlyList<byte[]> honest)
{
    private static readonly int[] Extremes =
    [
        0,
        1,
        -1,
        int.MaxValue,
        int.MinValue,
        0x7fff,
        0xffff,
        30_001,
        65_536,
        1 << 24,
    ];
    private static readonly bool HasZzuf = File.Exists("/usr/bin/zzuf");

    public static string Sources =>
        HasZzuf ? "own grammar, changed files, zzuf" : "own grammar, changed files (zzuf is not installed)";

    /// <summary>Small files of honest programs, made in this folder.</summary>
    public static List<byte[]> Honest(string folder) =>
        [
            .. new[] { "a.png", "a.jpg", "a.tif", "a.webp" }.Select(name =>
            {
                var path = Path.Combine(folder, name);
                Programs.Run("convert", "-size", "48x40", "plasma:red-blue", "-depth", "8", path);
                return File.ReadAllBytes(path);
            }),
            "<svg xmlns='http://www.w3.org/2000/svg' width='40' height='30'><rect width='30' height='20' fill='#a00'/></svg>"u8.ToArray(),
        ];

    public byte[] Make(int number)
    {
        var random = new Random(number);
        return (number % 4) switch
        {
            0 => Grammar(random),
            1 when HasZzuf => Zzuf(honest[random.Next(honest.Count)], number),
            _ => Changed(honest[random.Next(honest.Count)], random),
        };
    }

    private static byte[] Grammar(Random random) =>
        random.Next(4) switch
        {
            0 => BrokenFiles.Png(
                Size(random),
                Size(random),
                (byte)(1 << random.Next(6)),
                (byte)random.Next(8),
                ("iCCP", Bytes(random, 60)),
                ("PLTE", Bytes(random, 3 * random.Next(300))),
                ("tRNS", Bytes(random, random.Next(300)))
            ),
            1 => Tiff(random),
            2 => Svg(random),
            _ => Pdf(random),
        };

    // Header, then directories whose fields are of any tag, type, count and value; some point at themselves.
    private static byte[] Tiff(Random random)
    {
        var file = new byte[8 + 2 + (12 * 14) + 4 + 200];
        Encoding.ASCII.GetBytes("II").CopyTo(file, 0);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(2), 42);
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(4), 8);
        BinaryPrimitives.WriteInt16LittleEndian(file.AsSpan(8), 14);
        int[] tags = [256, 257, 258, 259, 262, 273, 277, 278, 279, 284, 317, 330, 338, 34675];
        for (var i = 0; i < tags.Length; i++)
        {
            var at = file.AsSpan(10 + (12 * i));
            BinaryPrimitives.WriteUInt16LittleEndian(at, (ushort)tags[i]);
            BinaryPrimitives.WriteInt16LittleEndian(
                at[2..],
                (short)(random.Next(8) == 0 ? random.Next(20) : 3 + random.Next(2))
            );
            BinaryPrimitives.WriteInt32LittleEndian(at[4..], random.Next(6) == 0 ? Extreme(random) : 1);
            BinaryPrimitives.WriteInt32LittleEndian(at[8..], random.Next(3) == 0 ? Extreme(random) : random.Next(300));
        }
        BinaryPrimitives.WriteInt32LittleEndian(file.AsSpan(10 + (12 * 14)), random.Next(2) == 0 ? 8 : 0);
        random.NextBytes(file.AsSpan(file.Length - 200));
        return file;
    }

    private static byte[] Svg(Random random)
    {
        var text = new StringBuilder(
            "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink'"
        );
        text.Append($" width='{Extreme(random)}' viewBox='0 0 {Extreme(random)} {random.Next(500)}'>");
        string[] pieces =
        [
            "<rect width='1e309' height='NaN' fill='url(#a)'/>",
            "<g id='a'><use xlink:href='#a'/></g>",
            "<image xlink:href='file:///etc/passwd' width='9' height='9'/>",
            "<image xlink:href='data:image/svg+xml;base64,PHN2Zy8+' width='99999' height='9'/>",
            "<script>alert(1)</script>",
            "<foreignObject><body/></foreignObject>",
            "<style>@import url(http://127.0.0.1/x.css);*{fill:url(http://127.0.0.1/)}</style>",
            "<path d='M0 0 L" + new string('9', 400) + " 1 A 1 1 1 1 1 1'/>",
            "<text font-size='1e30'>\u202e\u0000x</text>",
            "<filter id='f'><feTurbulence numOctaves='999999'/></filter><rect filter='url(#f)' width='9' height='9'/>",
            "<g transform='scale(1e30) rotate(1e30)'>",
            "&b;&b;",
            "]]>",
        ];
        for (var i = random.Next(8); i >= 0; i--)
        {
            text.Append(pieces[random.Next(pieces.Length)]);
        }
        var dtd = random.Next(4) == 0 ? "<!DOCTYPE svg [<!ENTITY a 'aaaaaaaa'><!ENTITY b '&a;&a;&a;&a;'>]>" : "";
        return Encoding.UTF8.GetBytes(dtd + text + (random.Next(3) == 0 ? "" : "</svg>"));
    }

    private static byte[] Pdf(Random random)
    {
        string[] pieces =
        [
            "1 0 obj<</Type/Catalog/Pages 2 0 R/OpenAction<</S/JavaScript/JS(app.alert(1))>>>>endobj\n",
            "2 0 obj<</Type/Pages/Kids[2 0 R]/Count 99999999>>endobj\n",
            "2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n",
            "3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 " + Extreme(random) + " 9]/Contents 4 0 R>>endobj\n",
            "4 0 obj<</Length 99999999/Filter[/FlateDecode/FlateDecode/LZWDecode]>>stream\nxxxx\nendstream endobj\n",
            "trailer<</Root 1 0 R/Encrypt 1 0 R/Prev 9>>\n",
            "xref\n0 " + Extreme(random) + "\n",
            "startxref\n" + random.Next(300) + "\n",
        ];
        var text = new StringBuilder("%PDF-1.7\n");
        for (var i = 2 + random.Next(10); i >= 0; i--)
        {
            text.Append(pieces[random.Next(pieces.Length)]);
        }
        return Encoding.Latin1.GetBytes(text + "%%EOF\n");
    }

    private static byte[] Changed(byte[] honest, Random random)
    {
        var file = honest.ToList();
        for (var changes = 1 + random.Next(4); changes > 0 && file.Count > 16; changes--)
        {
            var at = random.Next(file.Count - 8);
            switch (random.Next(6))
            {
                case 0:
                    file[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 1:
                    file.RemoveRange(at, file.Count - at);
                    break;
                case 2:
                    file.RemoveRange(at, Math.Min(file.Count - at, 1 + random.Next(400)));
                    break;
                case 3:
                    file.InsertRange(at, file.GetRange(0, Math.Min(file.Count, 1 + random.Next(400))));
                    break;
                case 4:
                    var extreme = BitConverter.GetBytes(Extreme(random));
                    for (var i = 0; i < 4; i++)
                        file[at + i] = extreme[random.Next(2) == 0 ? i : 3 - i];
                    break;
                default:
                    file.InsertRange(at, Bytes(random, random.Next(200)));
                    break;
            }
        }
        return [.. file];
    }

    private static byte[] Zzuf(byte[] honest, int seed)
    {
        using var process = Process.Start(
            new ProcessStartInfo("/usr/bin/zzuf", ["-s", $"{seed}", "-r", "0.0001:0.02"])
            {
                UseShellExecute = false,
                RedirectStandardInput = true,
                RedirectStandardOutput = true,
            }
        )!;
        var sending = Task.Run(() =>
        {
            process.StandardInput.BaseStream.Write(honest);
            process.StandardInput.Close();
        });
        using var fuzzed = new MemoryStream();
        process.StandardOutput.BaseStream.CopyTo(fuzzed);
        sending.Wait();
        process.WaitForExit();
        return fuzzed.ToArray();
    }

    private static int Size(Random random) => random.Next(3) == 0 ? Extreme(random) : random.Next(1, 200);

    private static int Extreme(Random random) => Extremes[random.Next(Extremes.Length)];

    private static byte[] Bytes(Random random, int count)
    {
        var bytes = new byte[count];
        random.NextBytes(bytes);
        return bytes;
    }
}
