using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Sentences;

/// <summary>Describes the opening and closing of nights, the walk-through and the hand-over.</summary>
internal static class NightSentences
{
    public static string Of(Week week, CrewFile crew, IWeekEvent e) => e switch
    {
        NightOpened night => $"{crew.NameOf(night.By)} opened {Phrases.Night(week, night.Night)}: {At(night.At)}, "
            + $"with {Count(night.Here.Count, "person", "people")} there.",
        PersonCame person => $"{crew.NameOf(person.Person)} came {At(person.At)}.",
        PersonLeft person => $"{crew.NameOf(person.Person)} left {At(person.At)}.",
        NightClosed night =>
            $"{crew.NameOf(night.By)} closed {Phrases.Night(week, night.Night)}: {At(night.At)}. {Morning(week, night)}",
        AreaLookedAt look => $"{Names(crew, [look.By, .. look.With])} looked at {Zone(week, look.Zone)} {At(look.At)}: "
            + $"{look.Answers.Count(answer => answer.Answer == CheckResult.Good)} good, "
            + $"{look.Answers.Count(answer => answer.Answer == CheckResult.NotGood)} not good.",
        DisplayShown shown => $"{crew.NameOf(shown.ShownBy)} showed {Phrases.Display(week, shown.Display)} to {Names(crew, shown.To)} "
            + $"{At(shown.At)}{(shown.To.Contains(shown.By) ? "" : $"; recorded by {crew.NameOf(shown.By)}")}.",
        WeekHandedOver { OpenChecks.Count: 0, Snags.Count: 0 } => "The week was handed over.",
        WeekHandedOver accepted =>
            $"The week was handed over with {Count(accepted.OpenChecks.Count + accepted.Snags.Count, "thing", "things")} open.",
        HandOverWithdrawn withdrawn => $"{crew.NameOf(withdrawn.By)} withdrew the hand-over.",
        _ => throw new ArgumentException($"{e.GetType().Name} has no sentence.", nameof(e)),
    };

    private static string Morning(Week week, NightClosed night) => night.ShutZones.Count == 0 ? "The whole store can trade."
        : $"{Phrases.Capitalised(Phrases.List(night.ShutZones.Select(zone => Zone(week, zone))))} "
            + $"{(night.ShutZones.Count == 1 ? "stays" : "stay")} shut in the morning.";

    private static string Names(CrewFile crew, IEnumerable<string> people) => Phrases.List(people.Select(crew.NameOf).Distinct());

    private static string Zone(Week week, string id) => week.Store.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;

    private static string Count(int number, string one, string several) => $"{number} {(number == 1 ? one : several)}";

    private static string At(OffsetDateTime time) => Phrases.Time(time.LocalDateTime);
}
