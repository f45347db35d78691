using NodaTime;
using NodaTime.Text;

namespace SetWeek.Service.Tests;

/// <summary>The clock of planning in tests. It stands at the Friday before the weeks of the tests until a test moves it.</summary>
public sealed class TestClock
{
    private static readonly Instant Start = Instant.FromUtc(2027, 3, 5, 12, 0);

    public Instant Now { get; private set; } = Start;

    public void Reset() => Now = Start;

    /// <param name="time">UTC, which is London's time before 28 March 2027: "2027-03-08T22:00".</param>
    public void MoveTo(string time) => Now = LocalDateTimePattern.ExtendedIso.Parse(time.Length == 16 ? $"{time}:00" : time).Value
        .InUtc().ToInstant();
}
