using NodaTime;
using SetWeek.Domain.Stores;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Stores;

/// <summary>Times of the system's clock as a store reads them.</summary>
internal static class StoreClock
{
    /// <summary>"Monday 8 March, 21:04", in the zone of the store.</summary>
    public static string In(StoreProfile store, DateTimeOffset time) =>
        Instant.FromDateTimeOffset(time).InZone(DateTimeZoneProviders.Tzdb[store.TimeZone]).LocalDateTime is var local
            ? $"{WeekLabels.Day(local)}, {WeekLabels.Time(local)}" : "";
}
