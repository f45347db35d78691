using NodaTime;

namespace SetWeek.Domain.Weeks;

/// <summary>Converts instants to the local time of the store.</summary>
public static class StoreTime
{
    public static LocalDateTime Local(StoreWeek week, Instant time) => Truncate(time.InZone(ZoneOf(week)).LocalDateTime);

    public static LocalDateTime Local(StoreWeek week, OffsetDateTime time) => Local(week, time.ToInstant());

    /// <summary>The same moment with the store's offset: a device may state another.</summary>
    public static OffsetDateTime AtStore(StoreWeek week, OffsetDateTime time) =>
        time.ToInstant().InZone(ZoneOf(week)).ToOffsetDateTime();

    /// <summary>The instant of a store-local time; one that the clock skips or repeats is resolved as RFC 5545 does.</summary>
    public static Instant InstantOf(StoreWeek week, LocalDateTime time) => time.InZoneLeniently(ZoneOf(week)).ToInstant();

    public static DateTimeZone ZoneOf(StoreWeek week) => DateTimeZoneProviders.Tzdb[week.Week.Store.TimeZone];

    /// <summary>Truncates to whole minutes, the unit of plans.</summary>
    private static LocalDateTime Truncate(LocalDateTime time) => new(time.Year, time.Month, time.Day, time.Hour, time.Minute);
}
