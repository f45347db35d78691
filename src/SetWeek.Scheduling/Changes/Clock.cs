using System.Globalization;
using NodaTime;

namespace SetWeek.Scheduling.Changes;

/// <summary>How a change says a time of the store's.</summary>
internal static class Clock
{
    /// <summary>"Tue 9 Mar 14:00".</summary>
    public static string Of(LocalDateTime time) => time.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);
}
