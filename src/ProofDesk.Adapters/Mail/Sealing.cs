using Microsoft.AspNetCore.DataProtection;

namespace ProofDesk.Adapters.Mail;

/// <summary>A stored mail holds a raw link, so it is kept sealed and the database alone opens no proof.</summary>
public sealed class Sealing(IDataProtectionProvider provider)
{
    private readonly IDataProtector _protector = provider.CreateProtector("ProofDesk.Outbox.1");

    internal byte[] Seal(byte[] mime) => _protector.Protect(mime);

    internal byte[] Open(byte[] sealedMime) => _protector.Unprotect(sealedMime);
}
