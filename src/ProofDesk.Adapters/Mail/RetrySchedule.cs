namespace ProofDesk.Adapters.Mail;

/// <summary>RFC 5321 section 4.5.4.1: give up after 4 to 5 days; the first tries are closer so that greylisting costs minutes.</summary>
internal static class RetrySchedule
{
    private static readonly int[] FirstMinutes = [1, 5, 15, 30, 60];
    public static readonly TimeSpan GiveUpAfter = TimeSpan.FromDays(5);

    /// <param name="attempts">tries made so far, at least 1</param>
    /// <param name="spread">0 to 1, so that hourly tries of many mails do not come together</param>
    public static TimeSpan Wait(int attempts, double spread) =>
        attempts <= FirstMinutes.Length
            ? TimeSpan.FromMinutes(FirstMinutes[attempts - 1])
            : TimeSpan.FromMinutes(60 + (10 * spread));
}
