using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Records;

/// <summary>Why films do not leave, as staff reads it.</summary>
internal static class ReleaseWords
{
    /// <summary>Null when they may leave.</summary>
    public static string? Refusal(Release release, int version) =>
        release switch
        {
            Release.Free => null,
            Release.Superseded newer =>
                $"Version {newer.By} has taken the place of version {version}. Take the films of the newest approved version.",
            Release.ChangesAsked =>
                $"The client has asked for changes to version {version}. Make a new version and have it approved.",
            Release.WithinHold =>
                "The approval is minutes old and can still be taken back. Films leave when that time is over; load this page again.",
            Release.Held held =>
                $"Production is held since {Layout.Words.Moment(held.Since)}: {held.Why.Replace("\n", "; ")}. Settle it on the order's page.",
            Release.SecondMissing second =>
                $"{second.Whom} must approve version {version} too, and has not answered yet.",
            _ => $"Version {version} is not approved. Films leave when the client has said yes to what they print.",
        };
}
