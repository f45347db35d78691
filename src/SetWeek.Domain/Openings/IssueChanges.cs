using System.Globalization;
using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Openings;

/// <summary>Says what an issue of the plan changes in a night, for everybody to hear: no person is addressed.</summary>
public static class IssueChanges
{
    /// <param name="night">The id of a night of the week.</param>
    /// <param name="before">The plan that was published before.</param>
    /// <param name="now">The plan that is published.</param>
    /// <returns>In the order of the new plan; what is not in the night any more follows.</returns>
    public static IReadOnlyList<string> Of(StoreWeek week, CrewFile crew, string night, Plan before, Plan now)
    {
        var (was, current) = (ByKey(before), ByKey(now));
        return
        [
            .. from work in current
                where work.Value.Night == night
                let sentence = Change(was.GetValueOrDefault(work.Key), work.Value)
                where sentence is not null
                select $"{NameOf(work.Key)} {sentence}.",
            .. from work in was
                where work.Value.Night == night && current.GetValueOrDefault(work.Key).Night != night
                select current.TryGetValue(work.Key, out var moved)
                    ? $"{NameOf(work.Key)} moves to {Phrases.Night(week.Week, moved.Night)}."
                    : $"{NameOf(work.Key)} is not done any more.",
        ];

        string? Change((string Night, PlannedWork Work) old, (string Night, PlannedWork Work) planned)
        {
            if (old.Work is null) return $"is new, {Clock(planned.Work.From)} to {Clock(planned.Work.To)}";
            if (old.Night != night)
                return $"comes from {Phrases.Night(week.Week, old.Night)}, "
                    + $"{Clock(planned.Work.From)} to {Clock(planned.Work.To)}";
            var (people, others) = (PeopleOf(planned.Work), PeopleOf(old.Work));
            string[] parts =
            [
                .. old.Work.From.ToInstant() == planned.Work.From.ToInstant() ? Array.Empty<string>()
                    : [$"begins {Clock(planned.Work.From)} and not {Clock(old.Work.From)}"],
                .. people.SequenceEqual(others) ? Array.Empty<string>()
                    : [$"is done by {Names(people)} and not by {Names(others)}"],
            ];
            return parts.Length == 0 ? null : Phrases.List(parts);
        }

        string Names(IReadOnlyList<string> people) => people.Count == 0 ? "nobody" : Phrases.List(people.Select(crew.NameOf));

        string NameOf(WorkKey work) => work.Task is { } task ? Phrases.Stint(week.Week, task, work.Stint)
            : $"The clean-down of {ZoneName(work.CleanDown)}";

        string? ZoneName(string? id) => week.Week.Store.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;
    }

    private static List<string> PeopleOf(PlannedWork work) =>
        [.. work.People.Select(assigned => assigned.Person).Distinct().Order(StringComparer.Ordinal)];

    private static Dictionary<WorkKey, (string Night, PlannedWork Work)> ByKey(Plan plan) =>
        plan.Nights.SelectMany(night => night.Work.OrderBy(work => work.From.ToInstant())
                .Select(work => (Key: PieceNumbering.KeyOf(work, night.Night), Value: (night.Night, work))))
            .DistinctBy(pair => pair.Key).ToDictionary(pair => pair.Key, pair => pair.Value);

    private static string Clock(OffsetDateTime time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);
}
