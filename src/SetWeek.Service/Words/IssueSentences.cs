using System.Globalization;
using NodaTime;
using SetWeek.Domain.Weeks;

namespace SetWeek.Service.Words;

/// <summary>Says which issue of the plan is published, since when, and by whom.</summary>
public static class IssueSentences
{
    /// <param name="before">The issue that it replaced; null for the first.</param>
    /// <param name="nameOf">The name of a person, by id.</param>
    public static string Of(PlanIssue issue, PlanIssue? before, Func<string, string> nameOf, DateTimeZone zone) =>
        $"Issue {issue.Number}" + (issue.At is null && issue.By is null ? "" : ", published")
        + (issue.At is { } at ? $" on {Moment(at, zone)}" : "") + (issue.By is { } by ? $" by {nameOf(by)}" : "")
        + (before is null ? "" : $", in place of issue {before.Number}"
            + (before.At is { } earlier ? $" of {WeekLabels.Day(earlier.InZone(zone).LocalDateTime)}" : "")) + ".";

    /// <summary>"Monday 8 March, 11:46".</summary>
    public static string Moment(Instant at, DateTimeZone zone) => DayAndTime(at.InZone(zone).LocalDateTime);

    public static string DayAndTime(LocalDateTime time) => string.Create(
        CultureInfo.InvariantCulture, $"{WeekLabels.Day(time)}, {WeekLabels.Time(time)}");
}
