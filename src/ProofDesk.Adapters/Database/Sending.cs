namespace ProofDesk.Adapters.Database;

public sealed record LinkRecipient(string Email, string Name = "");

/// <param name="Note">the shop's own words above the link; plain text</param>
public sealed record SendRequest(
    Guid VersionId,
    IReadOnlyList<LinkRecipient> Recipients,
    string Note,
    string Actor,
    string Locale = "en"
);

public abstract record SendResult
{
    private SendResult() { }

    public sealed record Sent(IReadOnlyList<Guid> InvitationIds, IReadOnlyList<Guid> MailIds) : SendResult;

    /// <summary>Only a frozen version can be sent.</summary>
    public sealed record NotFrozen(VersionState State) : SendResult;

    public sealed record NewerVersionExists(int Number) : SendResult;

    /// <summary>Everything that is wrong with the recipients, at once.</summary>
    public sealed record Unusable(IReadOnlyList<string> Problems) : SendResult;

    public sealed record NotFound : SendResult;
}
