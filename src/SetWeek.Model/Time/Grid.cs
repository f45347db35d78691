using NodaTime;
using NodaTime.TimeZones;

namespace SetWeek.Model.Time;

/// <summary>
/// Store-local times as whole minutes of elapsed time since the first night opens, and back. Elapsed, so a night over a
/// clock change is an hour longer or shorter than it looks, and paint dries through the day without special code.
/// </summary>
public sealed class Grid
{
    /// <summary>RFC 5545, section 3.3.5: a skipped time moves forward by the gap, a repeated one is the first.</summary>
    private static readonly ZoneLocalMappingResolver CalendarResolver =
        Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnForwardShifted);

    private readonly DateTimeZone zone;
    private readonly Instant origin;

    public Grid(string timeZone, LocalDateTime origin, int slotMinutes)
    {
        zone = DateTimeZoneProviders.Tzdb[timeZone];
        this.origin = origin.InZone(zone, CalendarResolver).ToInstant();
        SlotMinutes = slotMinutes;
    }

    /// <summary>Length of a slot, in minutes.</summary>
    public int SlotMinutes { get; }

    public int MinuteOf(LocalDateTime local) => MinuteOf(local.InZone(zone, CalendarResolver).ToInstant());

    /// <summary>Seconds are dropped: a plan counts in whole minutes.</summary>
    public int MinuteOf(OffsetDateTime time) => MinuteOf(time.ToInstant());

    public OffsetDateTime TimeOf(int minute) => (origin + Duration.FromMinutes(minute)).InZone(zone).ToOffsetDateTime();

    /// <summary>A length rounded up to whole slots, in minutes.</summary>
    public int RoundUp(int minutes) => (minutes + SlotMinutes - 1) / SlotMinutes * SlotMinutes;

    private int MinuteOf(Instant instant) => (int)Math.Floor((instant - origin).TotalMinutes);
}
