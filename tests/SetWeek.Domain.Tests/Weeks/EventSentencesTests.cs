using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Weeks;

public sealed class EventSentencesTests
{
    private static readonly LocalDateTime Tuesday = new(2027, 3, 9, 12, 0);

    private static readonly (IWeekEvent Event, string Sentence)[] All =
    [
        (Opened, "The week was opened."),
        (new KitExpected("paint", Tuesday), "Paint is expected Tue 9 Mar, 12:00."),
        (new KitDelayed("paint", Tuesday), "Paint is late and now expected Tue 9 Mar, 12:00."),
        (new KitDelayed("paint", null), "Paint is late, and its arrival is unknown."),
        (new KitArrived("r", "paint", At(18, 0)), "Paint arrived Mon 8 Mar, 18:00."),
        (new KitCounted("paint", At(18, 0), [new CountedLine("tin", 3, 1)]), "Paint was counted: 3 of tin, 1 of them damaged."),
        (new KitCounted("paint", At(18, 0), [new CountedLine("tin", 3, 0)], true), "Paint was confirmed as complete: 3 of tin."),
        (new KitLineSettled("paint", "tin"), "The received quantity of tin of Paint was accepted."),
        (new CrewJoined("p3"), "\"p3\" joined the crew."),
        (new CrewChanged("p1", ["skills", "available"]), "\"p1\" changed: skills and available."),
        (new PersonAbsent("p1", "monday"), "\"p1\" is absent from monday."),
        (new PersonErased("p1"), "The personal data of \"p1\" was erased."),
        (Published, "The plan plan-1 was published."),
        (new WorkStarted("r", "feature-wall.paint", 2, "monday", At(22, 0)),
            "Paint the wall (part 2 of 2) was started Mon 8 Mar, 22:00."),
        (new WorkFinished("r", "feature-wall.refit", 1, "monday", At(22, 0)),
            "Refit the fixtures was finished Mon 8 Mar, 22:00."),
        (new WorkBlocked("r", "feature-wall.refit", 1, At(22, 0), "not-dry", null, null),
            "Refit the fixtures is blocked (not-dry)."),
        (new WorkReopened("r", "feature-wall.refit", 1, At(22, 0)), "Refit the fixtures must be done again."),
        (new CleanDownStarted("r", "wall", "monday", At(23, 0)), "The clean-down of Feature wall was started Mon 8 Mar, 23:00."),
        (new CleanDownFinished("r", "wall", "monday", At(23, 0)),
            "The clean-down of Feature wall was finished Mon 8 Mar, 23:00."),
    ];

    [Fact]
    public void Each_event_has_its_sentence() =>
        Assert.All(All, sample => Assert.Equal(sample.Sentence, EventSentences.Of(Given().Week, sample.Event)));

    [Fact]
    public void The_samples_cover_every_event() => Assert.Equal(
        typeof(IWeekEvent).Assembly.GetTypes().Where(type => type.IsClass && type.IsAssignableTo(typeof(IWeekEvent)))
            .Select(type => type.Name).Order(),
        All.Select(sample => sample.Event.GetType().Name).Distinct().Order());
}
