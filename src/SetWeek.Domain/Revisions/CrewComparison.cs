using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// Compares the crews of two weeks. Events name people by id; the particulars go into the crew file. Somebody who can no longer
/// come in a whole night, and has no other change of hours, is absent there. Hours in a dropped night go with the night, without
/// an event of their own.
/// </summary>
internal sealed record CrewComparison(PartialComparison Result, CrewFile Crew)
{
    public static CrewComparison Of(StoreWeek week, CrewFile crew, Week before, Week after)
    {
        var (events, faults, refusals) = (new List<IWeekEvent>(), new List<Fault>(), new List<Refusal>());
        var known = before.Crew.ToDictionary(member => member.Id);
        var lasting = before.Nights.Select(night => night.Id).Intersect(after.Nights.Select(night => night.Id))
            .ToHashSet(StringComparer.Ordinal);
        foreach (var (index, member) in after.Crew.Index())
        {
            if (!known.TryGetValue(member.Id, out var was))
            {
                week.Join(crew, member.Id).Switch(joined =>
                {
                    events.Add(joined);
                    crew = crew.With(member);
                }, refusals.Add);
                continue;
            }
            var stored = crew.Find(member.Id)!;
            if (stored.Available.Any(entry => !lasting.Contains(entry.Night)))
            {
                stored = stored with { Available = [.. stored.Available.Where(entry => lasting.Contains(entry.Night))] };
                crew = crew.With(stored);
            }
            if (WeekParts.Same(was, member)) continue;
            var inNights = was.Available.Where(entry => lasting.Contains(entry.Night)).ToList();
            var lost = inNights.Select(entry => entry.Night).Distinct()
                .Where(night => member.Available.All(entry => entry.Night != night)).ToList();
            var onlyAbsent = inNights.Where(entry => !lost.Contains(entry.Night)).SequenceEqual(member.Available);
            if (onlyAbsent) events.AddRange(lost.Select(night => new PersonAbsent(member.Id, night)));
            else if (member.Available.FirstOrDefault(entry => week.Absences.Contains((member.Id, entry.Night))) is { } absent)
                faults.Add(new Fault($"/crew/{index}/available",
                    $"{member.Name} is marked absent for {Phrases.Night(after, absent.Night)}; take the absence back instead."));
            // Hours in nights of an absence are not in the planner's week and stay stored.
            var changed = member with
            {
                Available = onlyAbsent ? stored.Available
                    : [.. member.Available, .. stored.Available.Where(entry => !In(was.Available, entry.Night)
                        && !In(member.Available, entry.Night))],
            };
            week.ChangeCrew(stored, changed).Switch(e =>
            {
                events.Add(e);
                crew = crew.With(changed);
            }, refusal =>
            {
                if (refusal.Code != CrewDecisions.NothingChanged) refusals.Add(refusal);
            });
        }
        return new CrewComparison(new PartialComparison(events, faults, refusals), crew);
    }

    private static bool In(IReadOnlyList<Availability> entries, string night) => entries.Any(entry => entry.Night == night);
}
