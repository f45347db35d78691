using NodaTime;
using NodaTime.Text;
using SetWeek.Service;

namespace SetWeek.Cli.Demo;

/// <summary>
/// Moves the clock of the service through the week that the demo plays. The service reads the file at each request
/// (docs/operations.md); ops/demo starts it with one.
/// </summary>
/// <param name="file">The file that holds the current time.</param>
internal sealed class DemoClock(string file)
{
    private Instant current = Instant.MinValue;

    /// <summary>Moves the clock to a time. It never goes back: things may be reported late.</summary>
    public void MoveTo(Instant time)
    {
        if (time <= current) return;
        current = time;
        // The service never reads half a time: the file is replaced as a whole.
        File.WriteAllText($"{file}.next", InstantPattern.General.Format(time));
        File.Move($"{file}.next", file, overwrite: true);
    }

    public void MoveTo(LocalDateTime time, string timeZone) =>
        MoveTo(time.InZoneLeniently(DateTimeZoneProviders.Tzdb[timeZone]).ToInstant());

    public static DemoClock FromEnvironment() => new(Environment.GetEnvironmentVariable(Settings.ClockVariable)
        ?? throw new DemoStopped($"The environment variable {Settings.ClockVariable} names no file; ops/demo sets it."));
}
