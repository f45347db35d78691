using NodaTime;
using NodaTime.Text;

namespace SetWeek.Service.Clocks;

/// <summary>
/// The clock of planning. It says what "now" is for a plan, a report and a decision. It is chosen when the service is set up, and
/// no request can move it. Tokens, timers, leases and the ids of plans use the system's clock instead.
/// </summary>
/// <param name="read">Returns the current time.</param>
public sealed class PlanningClock(Func<Instant> read)
{
    /// <summary>How far the stated time of a report may be ahead of this clock and still be believed.</summary>
    public Duration ReportAhead { get; init; } = Duration.FromMinutes(10);

    public Instant Now => read();

    public static Func<Instant> OfSystem(TimeProvider system) => () => Instant.FromDateTimeOffset(system.GetUtcNow());

    /// <summary>Reads a clock that stands at the time in a file. Whoever runs the service moves it by writing a time.</summary>
    public static Func<Instant> OfFile(string path) => () => ReadFile(path)
        ?? throw new InvalidDataException($"{path} must hold the current time, for example 2027-03-08T21:30:00Z.");

    /// <returns>Null if the file is missing or holds no time in the form of RFC 3339.</returns>
    public static Instant? ReadFile(string path) =>
        File.Exists(path) && OffsetDateTimePattern.Rfc3339.Parse(File.ReadAllText(path).Trim()) is { Success: true } time
            ? time.Value.ToInstant() : null;
}
