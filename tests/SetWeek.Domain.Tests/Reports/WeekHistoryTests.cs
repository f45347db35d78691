using SetWeek.Domain.Hours;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Reports;

/// <summary>Two phones report the same work, each with an id of its own: both reports are facts, and the work counts once.</summary>
public sealed class WeekHistoryTests
{
    private const string Agrees = "That agrees with an earlier report, and counts once.";

    private static readonly WorkStarted Start = new("a1", "feature-wall.paint", 1, "monday", At(21, 50), ["p2"]);

    private static readonly WorkFinished Finish = new("a2", "feature-wall.paint", 1, "monday", At(22, 20), ["p2"]);

    [Theory]
    [InlineData(0)]
    [InlineData(3)] // the second phone was tapped some minutes later
    public void What_two_phones_report_is_told_twice_and_counts_once(int later)
    {
        IWeekEvent[] events =
        [
            Opened, Published, Start, Start with { Report = "b1", At = At(21, 50 + later) },
            Finish, Finish with { Report = "b2", At = At(22, 20 + later) },
        ];
        Assert.Equal([false, false, false, true, false, true], Told(events));
        var week = Given(events[1..]);
        var status = Assert.Single(week.ReportedWork.Statuses);
        Assert.Equal((At(21, 50), At(22, 20)), (status.From!.Value, status.To!.Value));
        Assert.Equal(30, PersonHours.Of(week, Worked).Single(hours => hours.Person == "p2").WorkedMinutes);
    }

    /// <summary>An earlier time, a start after an interruption and answers to checks say something new.</summary>
    [Fact]
    public void A_report_that_adds_something_does_not_merely_agree()
    {
        Assert.Equal([false, false, false, false],
            Told(Opened, Published, Start, Start with { Report = "b1", At = At(21, 40) }));
        Assert.Equal([false, false, false, false, false], Told(Opened, Published, Start,
            new WorkPaused("p", "feature-wall.paint", 1, At(22, 0)), Start with { Report = "b1", At = At(22, 10) }));
        Assert.Equal([false, false, false, false, false], Told(Opened, Published, Start, Finish, Finish with
        {
            Report = "b2", Checks = [new CheckAnswer("No bare spot.", CheckResult.Good)],
        }));
    }

    private static IEnumerable<bool> Told(params IWeekEvent[] events) => WeekHistory.Of(Given(events[1..]), Crew, events)
        .Select(entry => entry.Sentence.EndsWith(Agrees, StringComparison.Ordinal));
}
