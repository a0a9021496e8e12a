namespace ProofDesk.Adapters.Database;

/// <summary>When somebody is reminded.</summary>
public static class ReminderTimes
{
    /// <summary>
    /// The next one: as many days after the last letter as the shop's rule says, and where that would be past the day the client is
    /// asked to answer by, the day before it instead, unless less than a day has gone by since the last letter. Null when none follows.
    /// </summary>
    /// <param name="last">when the link or the last reminder was mailed</param>
    /// <param name="sent">reminders of this link so far</param>
    /// <param name="everyDays">the shop's rule; 0 = none are sent</param>
    public static DateTimeOffset? Next(DateTimeOffset last, int sent, int everyDays, DateOnly? approveBy)
    {
        if (everyDays == 0 || sent >= Reminder.Most)
        {
            return null;
        }
        var usual = last.AddDays(everyDays);
        if (approveBy is not { } day)
        {
            return usual;
        }
        var byDay = new DateTimeOffset(day.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);
        var dayBefore = byDay.AddDays(-1);
        return usual >= byDay && dayBefore >= last.AddDays(1) ? dayBefore : usual;
    }
}
