using MimeKit;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Mail;

/// <summary>
/// Mail without a mail server: tmp/ID.eml is flushed and renamed to new/ID.eml. The name is the row's id, so a second try after a
/// crash finds the file and writes nothing: exactly one file a mail.
/// </summary>
public sealed class PickupFolder
{
    private readonly string _new;
    private readonly string _tmp;

    public PickupFolder(string root)
    {
        _new = Path.Combine(root, "new");
        _tmp = Path.Combine(root, "tmp");
        Directory.CreateDirectory(_new);
        Directory.CreateDirectory(_tmp);
    }

    internal async Task PutAsync(Guid id, byte[] mime, CancellationToken cancel)
    {
        var path = PathOf(id);
        if (File.Exists(path))
        {
            return;
        }
        var temporary = Path.Combine(_tmp, $"{id}.eml");
        File.Delete(temporary);
        await using (var file = DurableFile.Create(temporary))
        {
            await file.WriteAsync(mime, cancel);
            RandomAccess.FlushToDisk(file.SafeFileHandle);
        }
        Fault.Point("pickup.after-temporary");
        File.Move(temporary, path);
        Fault.Point("pickup.after-rename");
        DurableFile.FlushFolder(_new);
    }

    /// <summary>The text part of a mail that went out, for the desk; null when somebody collected the file.</summary>
    public async Task<string?> TextOfAsync(Guid id, CancellationToken cancel = default)
    {
        var path = PathOf(id);
        if (!File.Exists(path))
        {
            return null;
        }
        using var message = await MimeMessage.LoadAsync(path, cancel);
        return message.TextBody?.ReplaceLineEndings("\n");
    }

    public string PathOf(Guid id) => Path.Combine(_new, $"{id}.eml");
}
