using System.Buffers.Binary;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Backups;

/// <summary>Letters that still have to go out are there, and the key that opens each one is among the keys.</summary>
internal static class MailCheck
{
    // What ASP.NET Core Data Protection writes in front: this number, then the id of the key.
    private const uint Magic = 0x09F0C9F0;

    public static async Task RunAsync(OfficeDb db, DataFolder folder, StoreFindings found, CancellationToken cancel)
    {
        var waiting = await db
            .OutboxMails.AsNoTracking()
            .Where(row => row.State != MailState.Sent && row.State != MailState.Bounced)
            .Select(row => new
            {
                row.Id,
                row.Recipient,
                row.SealedMime,
            })
            .ToListAsync(cancel);
        foreach (var mail in waiting)
        {
            if (mail.SealedMime is not { Length: > 20 } bytes || BinaryPrimitives.ReadUInt32BigEndian(bytes) != Magic)
            {
                found.Wrong("mail.empty", $"mail {mail.Id} to {mail.Recipient} waits and has no content");
            }
            else if (!File.Exists(Path.Combine(folder.DataProtectionKeys, $"key-{new Guid(bytes.AsSpan(4, 16))}.xml")))
            {
                found.Wrong(
                    "mail.key-missing",
                    $"mail {mail.Id} to {mail.Recipient} waits, and the key that opens it is not in {folder.DataProtectionKeys}; "
                        + "restore keys/, or send it again from the desk"
                );
            }
        }
    }
}
