using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ProofDesk.Adapters.Codecs.Pdf;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// Reads strangers' pictures in a child process, so that a fault in a decoder ends the child and nothing else. The
/// parent checks the file's size and digest, and every size the child names.
/// </summary>
public sealed class ArtDecoder
{
    private readonly WorkerProgram _worker;

    /// <param name="limits">What a file may ask for; the default when null.</param>
    /// <param name="allowUnsandboxed">False refuses to read anything where the worker cannot be shut in.</param>
    /// <param name="workerFolder">Where the command line lies; beside the running program when null.</param>
    public ArtDecoder(DecodeLimits? limits = null, bool allowUnsandboxed = true, string? workerFolder = null)
        : this(WorkerProgram.Beside(workerFolder ?? AppContext.BaseDirectory), limits, allowUnsandboxed) { }

    internal ArtDecoder(
        WorkerProgram worker,
        DecodeLimits? limits,
        bool allowUnsandboxed,
        PdfPrograms? pdf = null,
        Sandbox? sandbox = null
    )
    {
        (_worker, Limits) = (worker, limits ?? DecodeLimits.Default);
        (PdfPrograms, Sandbox) = (pdf ?? PdfPrograms.OfThisMachine, sandbox ?? Sandbox.OfThisMachine);
        if (!allowUnsandboxed && !Sandbox.ShutIn)
            throw new InvalidOperationException(Sandbox.Description);
    }

    public DecodeLimits Limits { get; }

    /// <summary>How the worker is shut in on this machine, for the health page.</summary>
    public Sandbox Sandbox { get; }

    /// <summary>What draws pages on this machine, for the health page.</summary>
    public PdfPrograms PdfPrograms { get; }

    /// <summary>Decodes the file at <paramref name="path"/>.</summary>
    /// <param name="printWidthMm">Width of the print: decides how finely an SVG is drawn.</param>
    /// <exception cref="UnreadableArt">The file cannot be used as art.</exception>
    public Task<Artwork> DecodeAsync(string path, double printWidthMm, CancellationToken cancel) =>
        DecodeAsync(path, new ArtWish(printWidthMm), cancel);

    /// <summary>Decodes the file at <paramref name="path"/>.</summary>
    /// <exception cref="UnreadableArt">The file cannot be used as art.</exception>
    public async Task<Artwork> DecodeAsync(string path, ArtWish wish, CancellationToken cancel)
    {
        await using var file = File.OpenRead(path);
        return await DecodeAsync(file, wish, cancel);
    }

    /// <summary>Decodes the bytes of <paramref name="art"/>, read to its end.</summary>
    /// <exception cref="UnreadableArt">The file cannot be used as art.</exception>
    public Task<Artwork> DecodeAsync(Stream art, double printWidthMm, CancellationToken cancel) =>
        DecodeAsync(art, new ArtWish(printWidthMm), cancel);

    /// <summary>Decodes the bytes of <paramref name="art"/>, read to its end.</summary>
    /// <exception cref="UnreadableArt">The file cannot be used as art.</exception>
    public async Task<Artwork> DecodeAsync(Stream art, ArtWish wish, CancellationToken cancel)
    {
        var file = await ReadAllAsync(art, cancel);
        // The cheap half of the header check, before a process is started for it.
        var format = ArtFormat.Of(file);
        if (format == ArtFormat.Pdf && !PdfPrograms.CanDraw)
            throw PdfPrograms.Missing();
        using var scratch = Sandbox.Scratch(format == ArtFormat.Pdf);
        using var clock = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        clock.CancelAfter(Limits.WallClock);
        string[] arguments =
        [
            wish.PrintWidthMm.ToString("R", CultureInfo.InvariantCulture),
            JsonSerializer.Serialize(Limits),
            JsonSerializer.Serialize(
                new PdfWish(wish.Page, PdfPrograms.Ghostscript, PdfPrograms.Poppler, scratch.Folder)
            ),
        ];
        using var process = await StartAsync(arguments);
        try
        {
            var sending = SendAsync(process, file, clock.Token);
            var complaints = DrainAsync(process.StandardError.BaseStream, clock.Token);
            var answer = await WorkerProtocol.ReadAsync(process.StandardOutput.BaseStream, Limits, clock.Token);
            if (answer is not { } whole)
            {
                Kill(process);
                throw Stopped(await complaints);
            }
            await Task.WhenAll(sending, complaints);
            await process.WaitForExitAsync(clock.Token);
            if (process.ExitCode != 0)
                throw Stopped(await complaints);
            return new(whole.Pixels, whole.Source, Convert.ToHexStringLower(SHA256.HashData(file)), [.. whole.Findings])
            {
                Layers = whole.Layers,
                Words = whole.Words,
            };
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            throw new UnreadableArt(
                "decoding-too-slow",
                $"the picture took longer than {Limits.WallClock.TotalSeconds:0.#} s to read",
                "flatten it, or save it as png, and send that",
                null,
                Limits.WallClock.TotalSeconds
            );
        }
        finally
        {
            Kill(process);
        }
    }

    /// <summary>
    /// Starts the worker from a thread that lives as long as it does: the kernel's "die with the parent" means the
    /// thread that made the child, and a pool thread may retire while the child still reads.
    /// </summary>
    private Task<Process> StartAsync(string[] arguments)
    {
        var started = new TaskCompletionSource<Process>(TaskCreationOptions.RunContinuationsAsynchronously);
        var thread = new Thread(() =>
        {
            try
            {
                var process =
                    Process.Start(Sandbox.Command(_worker, arguments, Limits))
                    ?? throw new InvalidOperationException("the picture reader did not start");
                started.SetResult(process);
                WaitFor(process);
            }
            catch (Exception e)
            {
                started.TrySetException(e);
            }
        })
        {
            IsBackground = true,
            Name = "picture reader",
        };
        thread.Start();
        return started.Task;
    }

    private static void WaitFor(Process process)
    {
        try
        {
            process.WaitForExit();
        }
        catch (InvalidOperationException)
        {
            // Disposed by the reader, which kills it first.
        }
    }

    private async Task<byte[]> ReadAllAsync(Stream art, CancellationToken cancel)
    {
        using var file = new MemoryStream();
        var block = new byte[1 << 16];
        for (int got; (got = await art.ReadAsync(block, cancel)) > 0; )
        {
            if (file.Length + got > Limits.MaxFileBytes)
                throw DecodeWorker.TooLarge(Limits);
            file.Write(block, 0, got);
        }
        return file.ToArray();
    }

    private static async Task SendAsync(Process process, byte[] file, CancellationToken cancel)
    {
        try
        {
            await process.StandardInput.BaseStream.WriteAsync(file, cancel);
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // The worker stopped listening; its answer, or the lack of one, says why.
        }
    }

    /// <summary>Reads the error stream to its end, so that the worker never waits for us, and keeps its beginning.</summary>
    private static async Task<string> DrainAsync(Stream complaints, CancellationToken cancel)
    {
        var kept = new byte[2048];
        var length = await complaints.ReadAtLeastAsync(kept, kept.Length, false, cancel);
        var rest = new byte[4096];
        while (await complaints.ReadAsync(rest, cancel) > 0) { }
        return Encoding.UTF8.GetString(kept, 0, length);
    }

    private static void Kill(Process process)
    {
        try
        {
            if (!process.HasExited)
                process.Kill(entireProcessTree: true);
        }
        catch (InvalidOperationException)
        {
            // It ended between the question and the order.
        }
    }

    /// <summary>What the worker complained of is for the log: it may quote the file, so people do not see it.</summary>
    private static UnreadableArt Stopped(string complaint) =>
        new(
            "decoder-stopped",
            "the picture reader stopped while reading this file",
            "save the art as png with the program that made it and send that"
        )
        {
            ForTheLog = complaint,
        };
}
