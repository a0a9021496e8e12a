using System.Globalization;
using System.IO.Compression;
using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Codecs.Pdf;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs.Pdf;

/// <summary>A PDF is a program's worth of trouble: each of these ends in words, within the limits, and leaves nothing.</summary>
public sealed class PdfRefusalTests : IDisposable
{
    private static readonly DecodeLimits Short = DecodeLimits.Default with { WallClock = TimeSpan.FromSeconds(15) };

    private readonly PdfFiles _files = new();

    public void Dispose()
    {
        _files.Dispose();
        Assert.Empty(Directory.GetDirectories(Path.GetTempPath(), "proofdesk-page-*"));
    }

    [Fact]
    public async Task Without_a_program_that_draws_pages_a_pdf_is_refused_with_what_to_do()
    {
        var no = await Assert.ThrowsAsync<UnreadableArt>(() =>
            PdfDecoders
                .With(PdfPrograms.None)
                .DecodeAsync(new MemoryStream(PdfFiles.OnePage("0 0 9 9 re f")), 100, CancellationToken.None)
        );

        Assert.Equal("pdf-needs-program", no.Code);
        Assert.Equal("pdf art needs Ghostscript or poppler on this machine, and neither is installed", no.What);
        Assert.Equal(
            "install ghostscript (Debian: apt-get install ghostscript), or send the art as svg or png",
            no.NextStep
        );
    }

    [SkippableFact]
    public async Task A_locked_pdf_is_refused()
    {
        var open = _files.Distilled("0 0 100 100 rectfill");
        var locked = _files.Path("locked.pdf");
        Programs.Run("qpdf", "--encrypt", "secret", "owner", "256", "--", open, locked);

        var no = await Refused(await File.ReadAllBytesAsync(locked));

        Assert.Equal(
            ("pdf-locked", "the pdf is locked with a password", "save it without a password and send that"),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableFact]
    public async Task A_pdf_that_only_forbids_changes_is_read()
    {
        var forbids = _files.Path("forbids.pdf");
        Programs.Run(
            "qpdf",
            "--encrypt",
            "",
            "owner",
            "256",
            "--modify=none",
            "--",
            _files.Distilled("0 0 100 100 rectfill"),
            forbids
        );

        var art = await Read(forbids);

        Assert.Equal("pdf", art.Source.Format);
    }

    [SkippableFact]
    public async Task PostScript_inside_a_pdf_reads_no_file_and_writes_none()
    {
        Programs.Run("gs", "--version");
        var written = Path.Combine(Path.GetTempPath(), "proofdesk-written-by-a-pdf");
        var script = $"(/etc/passwd) (r) file 100 string readstring ({written}) (w) file closefile";
        var file = PdfFiles.OnePage(
            "/P Do 1 0 0 rg 60 20 80 60 re f",
            "/Resources << /XObject << /P 5 0 R >> >>",
            "",
            "[0 0 200 100]",
            PdfFiles.Stream(script, "/Type /XObject /Subtype /PS")
        );

        await Read(file);
        var polyglot = await Refused(Encoding.ASCII.GetBytes($"%PDF-1.4\n{script}\n%%EOF"));

        Assert.False(File.Exists(written));
        Assert.Equal(
            (
                "damaged",
                "the pdf file is cut short or damaged",
                "export it again from the program that made it and send the whole file"
            ),
            (polyglot.Code, polyglot.What, polyglot.NextStep)
        );
    }

    [SkippableFact]
    public async Task A_page_of_a_million_points_is_refused_before_it_is_drawn()
    {
        Programs.Run("gs", "--version");
        var no = await Refused(PdfFiles.OnePage("0 0 9 9 re f", media: "[0 0 1000000 1000000]"));

        Assert.Equal("pdf-page-too-large", no.Code);
        Assert.Equal("the page is 352778 x 352778 mm; a side of a pdf page has at most 5080 mm", no.What);
        Assert.Equal("set the art on a page of its own size and send that", no.NextStep);
    }

    [SkippableFact]
    public async Task A_tree_of_pages_that_bites_its_tail_ends()
    {
        Programs.Run("gs", "--version");
        var no = await Refused(
            PdfFiles.Raw(
                "<< /Type /Catalog /Pages 2 0 R >>",
                "<< /Type /Pages /Kids [3 0 R] /Count 1 /MediaBox [0 0 9 9] >>",
                "<< /Type /Pages /Parent 2 0 R /Kids [2 0 R] /Count 1 >>"
            ),
            Short
        );

        Assert.Equal(
            (
                "pdf-without-pages",
                "no page can be found in the pdf",
                "export it again from the program that made it and send the whole file"
            ),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableTheory]
    [InlineData("[", "]")]
    [InlineData("<</A ", ">>")]
    public async Task Nesting_without_end_ends(string open, string close)
    {
        Programs.Run("gs", "--version");
        var deep = string.Concat(Enumerable.Repeat(open, 50_000)) + string.Concat(Enumerable.Repeat(close, 50_000));

        await EndsAsync(
            PdfFiles.OnePage(deep + " 0 0 9 9 re f", "/Deep 5 0 R /Resources 5 0 R", "", "[0 0 200 100]", deep)
        );
    }

    [SkippableFact]
    public async Task A_form_that_draws_itself_ends()
    {
        Programs.Run("gs", "--version");
        await EndsAsync(
            PdfFiles.OnePage(
                "/X Do 0 0 9 9 re f",
                "/Resources << /XObject << /X 5 0 R >> >>",
                "",
                "[0 0 200 100]",
                PdfFiles.Stream(
                    "/X Do /X Do 0 0 9 9 re f",
                    "/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Resources << /XObject << /X 5 0 R >> >>"
                )
            )
        );
    }

    [SkippableFact]
    public async Task A_stream_that_unpacks_without_measure_ends()
    {
        Programs.Run("gs", "--version");
        // 3 GiB of blanks, packed twice.
        var packed = Packed(Packed(new byte[1 << 20], 3072), 1);
        var text = Encoding.Latin1.GetString(packed);

        await EndsAsync(
            PdfFiles.Raw(
                "<< /Type /Catalog /Pages 2 0 R >>",
                "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
                "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 100] /Contents 4 0 R >>",
                PdfFiles.Stream(text, "/Filter [/FlateDecode /FlateDecode]")
            )
        );
    }

    private static byte[] Packed(byte[] block, int times)
    {
        using var packed = new MemoryStream();
        using (var zip = new ZLibStream(packed, CompressionLevel.Fastest, leaveOpen: true))
            for (var i = 0; i < times; i++)
                zip.Write(block);
        return packed.ToArray();
    }

    [SkippableFact]
    public async Task Ten_thousand_pages_are_refused()
    {
        Programs.Run("gs", "--version");
        var kids = string.Join(' ', Enumerable.Repeat("3 0 R", 1));
        var pages = Enumerable
            .Range(0, 10_000)
            .Select(_ => "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 99 99] >>")
            .ToArray();
        kids = string.Join(
            ' ',
            Enumerable.Range(0, pages.Length).Select(i => string.Create(CultureInfo.InvariantCulture, $"{i + 3} 0 R"))
        );
        var no = await Refused(
            PdfFiles.Raw([
                "<< /Type /Catalog /Pages 2 0 R >>",
                $"<< /Type /Pages /Kids [{kids}] /Count {pages.Length} >>",
                .. pages,
            ])
        );

        Assert.Equal(
            (
                "too-many-pages",
                "the pdf has 10000 pages; 1000 are the limit",
                "send the page that is to be printed as a file of its own"
            ),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableFact]
    public async Task A_page_that_takes_too_long_to_draw_is_given_up()
    {
        Programs.Run("gs", "--version");
        // A shading in blend groups, thousands of times over the whole page.
        var content = string.Concat(Enumerable.Repeat("/X Do ", 40_000));
        var file = PdfFiles.OnePage(
            content,
            "/Resources << /XObject << /X 5 0 R >> >>",
            "",
            "[0 0 2000 2000]",
            PdfFiles.Stream(
                "0 0 1 rg 0 0 2000 2000 re f",
                "/Type /XObject /Subtype /Form /BBox [0 0 2000 2000] /Group << /S /Transparency /I true /K true >>"
            )
        );

        // Its list of what to draw grows as well; the clock must be what stops it, however fast the machine.
        var limits = DecodeLimits.Default;
        var no = await Refused(
            file,
            limits with
            {
                WallClock = TimeSpan.FromSeconds(10),
                MaxScratchFileBytes = limits.MaxScratchBytes,
            }
        );

        Assert.Equal("pdf-drawing-too-slow", no.Code);
        Assert.Matches("^Ghostscript took longer than [1-8] s to draw the page$", no.What);
        Assert.Equal("flatten it, or save the art as png with the program that made it and send that", no.NextStep);
    }

    [SkippableFact]
    public async Task Without_a_sandbox_pages_are_drawn_all_the_same_and_leave_nothing()
    {
        var decoder = PdfDecoders.With(PdfPrograms.OfThisMachine, null, Sandbox.ChildProcessOnly);
        var file = _files.Distilled("(Sea) 1 0 0 0 SPOT 10 10 50 50 rectfill");

        var art = await decoder.DecodeAsync(file, 80, CancellationToken.None);

        Assert.Equal("Sea", Assert.Single(art.Layers).Name);
        Assert.Empty(Directory.GetDirectories(Path.GetTempPath(), "proofdesk-page-*"));
    }

    /// <summary>Drawn or refused, but within the time and in words.</summary>
    private static async Task EndsAsync(byte[] file)
    {
        try
        {
            await Read(file, 100, Short);
        }
        catch (UnreadableArt no)
        {
            AssertEnded(no);
        }
    }

    private static void AssertEnded(UnreadableArt no)
    {
        Assert.Contains(
            no.Code,
            (string[])
                [
                    "damaged",
                    "decoder-stopped",
                    "decoding-too-slow",
                    "pdf-drawing-too-slow",
                    "pdf-not-drawn",
                    "pdf-unpacks-too-large",
                ]
        );
        Assert.NotEmpty(no.NextStep);
    }
}
