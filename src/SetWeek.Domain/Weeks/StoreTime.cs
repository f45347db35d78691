using NodaTime;

namespace SetWeek.Domain.Weeks;

/// <summary>The clock on the store's wall.</summary>
public static class StoreTime
{
    public static LocalDateTime Local(StoreWeek week, Instant at) => Whole(at.InZone(ZoneOf(week)).LocalDateTime);

    public static LocalDateTime Local(StoreWeek week, OffsetDateTime at) => Local(week, at.ToInstant());

    private static DateTimeZone ZoneOf(StoreWeek week) => DateTimeZoneProviders.Tzdb[week.Week.Store.TimeZone];

    /// <summary>Plans count in whole minutes.</summary>
    private static LocalDateTime Whole(LocalDateTime time) => new(time.Year, time.Month, time.Day, time.Hour, time.Minute);
}
