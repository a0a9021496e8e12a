using System.Globalization;

namespace ProofDesk.Web.Reviews;

/// <summary>Days and moments as a client reads them: in the shop's zone, with its name; the page turns moments into the visitor's zone where script runs.</summary>
public static class ReviewDates
{
    /// <summary>The last minute of a day in a zone. A day that ends in a gap of the clock ends where the gap begins.</summary>
    public static DateTimeOffset EndOf(DateOnly day, TimeZoneInfo zone)
    {
        var last = day.ToDateTime(new TimeOnly(23, 59), DateTimeKind.Unspecified);
        while (zone.IsInvalidTime(last))
            last = last.AddMinutes(-30);
        return new DateTimeOffset(last, zone.GetUtcOffset(last)).ToUniversalTime();
    }

    /// <summary>"Tue 1 Dec 2026".</summary>
    public static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", ReviewLanguage.Culture);

    /// <summary>"Tue 1 Dec 2026, 23:59 (Europe/Lisbon)".</summary>
    public static string Moment(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("ddd d MMM yyyy, HH:mm", ReviewLanguage.Culture)
        + (zone.Id == TimeZoneInfo.Utc.Id ? " UTC" : $" ({zone.Id})");

    public static TimeZoneInfo Zone(string id) =>
        TimeZoneInfo.TryFindSystemTimeZoneById(id, out var found) ? found : TimeZoneInfo.Utc;
}
