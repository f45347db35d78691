using NodaTime;
using NodaTime.TimeZones;

namespace SetWeek.Model.Time;

/// <summary>
/// Converts times to whole minutes of elapsed time since the first night opens, and back. Elapsed time makes a night with a
/// clock change an hour longer or shorter than its local times suggest. Time lags across days need no special case.
/// </summary>
public sealed class Grid
{
    /// <summary>RFC 5545, section 3.3.5: a skipped local time moves forward by the gap; a repeated one is the first.</summary>
    private static readonly ZoneLocalMappingResolver CalendarResolver =
        Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnForwardShifted);

    private readonly DateTimeZone zone;
    private readonly Instant origin;

    /// <summary>Makes the conversion for one store.</summary>
    /// <param name="timeZone">IANA time zone id.</param>
    /// <param name="origin">Store-local time of minute 0.</param>
    /// <param name="slotMinutes">Length of a slot in minutes.</param>
    /// <exception cref="DateTimeZoneNotFoundException">The time zone is unknown.</exception>
    public Grid(string timeZone, LocalDateTime origin, int slotMinutes)
    {
        zone = DateTimeZoneProviders.Tzdb[timeZone];
        this.origin = origin.InZone(zone, CalendarResolver).ToInstant();
        SlotMinutes = slotMinutes;
    }

    /// <summary>Length of a slot, in minutes.</summary>
    public int SlotMinutes { get; }

    /// <summary>Elapsed minutes from the origin to a store-local time; negative before the origin.</summary>
    public int MinuteOf(LocalDateTime local) => MinuteOf(local.InZone(zone, CalendarResolver).ToInstant());

    /// <summary>Elapsed minutes from the origin to an instant, rounded down to whole minutes.</summary>
    public int MinuteOf(OffsetDateTime time) => MinuteOf(time.ToInstant());

    /// <summary>The instant that many elapsed minutes after the origin, with the store's offset.</summary>
    public OffsetDateTime TimeOf(int minute) => (origin + Duration.FromMinutes(minute)).InZone(zone).ToOffsetDateTime();

    /// <summary>A duration in minutes, rounded up to whole slots.</summary>
    public int RoundUp(int minutes) => (minutes + SlotMinutes - 1) / SlotMinutes * SlotMinutes;

    private int MinuteOf(Instant instant) => (int)Math.Floor((instant - origin).TotalMinutes);
}
