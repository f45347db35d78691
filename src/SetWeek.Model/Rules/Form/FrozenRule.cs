using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Form;

/// <summary>
/// The frozen rule: a re-plan does not change the past. Begun work keeps its people, mode and times. A shift that is over
/// stays as it was. A begun shift keeps its start and a begun break, and does not end before now. New work and new shifts
/// start at now or later, and blocked work no earlier than its reported time. A display of which work has begun stays built.
/// A night that is over keeps its keyholder. A first plan has nothing frozen.
/// </summary>
internal sealed class FrozenRule : IRule
{
    public RuleId Id => RuleId.Frozen;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return [];
        return [.. WorkBreaches(problem, facts, schedule), .. ShiftBreaches(problem, facts, schedule)];
    }

    private IEnumerable<Breach> WorkBreaches(Problem problem, ReplanFacts facts, Schedule schedule)
    {
        var (byStint, placed) = (schedule.WorkByStint(problem), schedule.PlacedDisplays(problem));
        foreach (var begun in facts.BegunWork.OfType<ScheduledWork>())
            if (byStint[begun.Stint!.Value] is not { } kept || !Same(begun, kept))
                yield return new Breach(Id, RulePhrases.Subject(problem, begun),
                    $"{RulePhrases.Work(problem, begun)} has begun, but the plan changes it.");
        foreach (var begun in facts.BegunCleanDowns)
            if (!schedule.Work.Any(work => Same(begun, work)))
                yield return new Breach(Id, RulePhrases.Subject(problem, begun),
                    $"{RulePhrases.Work(problem, begun)} has begun, but the plan changes it.");
        foreach (var work in schedule.Work)
        {
            if (work.Stint is { } index
                ? facts.BegunWork[index] is not null : facts.BegunCleanDowns.Any(down => Same(down, work)))
                continue;
            if (work.From < facts.Now)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} is new but starts {RulePhrases.Time(problem, work.From)}, before now, "
                        + $"{RulePhrases.Time(problem, facts.Now)}.");
            if (work.Stint is not { } stint) continue;
            if (work.From < facts.EarliestStarts[stint])
                yield return new Breach(Id, RulePhrases.Subject(problem, work), facts.EarliestStarts[stint] == Problem.Never
                    ? $"{RulePhrases.Work(problem, work)} is blocked until an unknown time, but is planned."
                    : $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)}, but is blocked until "
                        + $"{RulePhrases.Time(problem, facts.EarliestStarts[stint])}.");
            if (facts.FixedModes[stint] is { } mode && work.Mode != mode)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} has begun in another mode; the rest of it must keep that mode.");
        }
        foreach (var display in problem.Displays)
            if (facts.StaysPlaced[display.Index] && !placed[display.Index])
                yield return new Breach(Id, new RuleSubject { Display = display.Id },
                    $"Work on “{display.Name}” has begun, so the plan must include it.");
    }

    private IEnumerable<Breach> ShiftBreaches(Problem problem, ReplanFacts facts, Schedule schedule)
    {
        foreach (var ended in facts.EndedShifts)
            if (!schedule.Shifts.Contains(ended))
                yield return BreachOf(problem, ended, $"{ShiftPhrase(problem, ended)} is over, but the plan changes it.");
        foreach (var begun in facts.BegunShifts)
        {
            var kept = schedule.Shifts.FirstOrDefault(shift => SameStart(shift, begun));
            if (kept is null)
                yield return BreachOf(problem, begun,
                    $"{ShiftPhrase(problem, begun)} has begun, but the plan does not keep its start, "
                        + $"{RulePhrases.Time(problem, begun.From)}.");
            else if (kept.To < facts.Now)
                yield return BreachOf(problem, kept,
                    $"{ShiftPhrase(problem, kept)} ends {RulePhrases.Time(problem, kept.To)}, before now, "
                        + $"{RulePhrases.Time(problem, facts.Now)}.");
            else if (begun.Break is { } rest && rest.From < facts.Now ? kept.Break != rest : kept.Break?.From < facts.Now)
                yield return BreachOf(problem, kept,
                    $"{ShiftPhrase(problem, kept)} must keep a break that has already begun. A new break must start "
                        + "now or later.");
        }
        foreach (var shift in schedule.Shifts)
            if (shift.From < facts.Now && !facts.Published.Shifts.Any(old => SameStart(old, shift)))
                yield return BreachOf(problem, shift,
                    $"{ShiftPhrase(problem, shift)} is new but starts {RulePhrases.Time(problem, shift.From)}, before now, "
                        + $"{RulePhrases.Time(problem, facts.Now)}.");
        foreach (var night in problem.Nights)
            if (night.Closes <= facts.Now && schedule.Keyholders[night.Index] != facts.Published.Keyholders[night.Index])
                yield return new Breach(Id, new RuleSubject { Night = night.Id },
                    $"{WeekPhrases.CapitalisedNight(problem.Week, night.Id)} is over, so its keyholder can no longer "
                        + "be changed.");
    }

    private static bool Same(ScheduledWork begun, ScheduledWork work) =>
        begun.Night == work.Night && begun.Stint == work.Stint && begun.Mode == work.Mode && begun.Zone == work.Zone
        && begun.Span == work.Span && begun.Assignments.Count == work.Assignments.Count
        && begun.Assignments.All(work.Assignments.Contains);

    private static bool SameStart(ScheduledShift first, ScheduledShift second) =>
        first.Person == second.Person && first.Night == second.Night && first.From == second.From;

    private static string ShiftPhrase(Problem problem, ScheduledShift shift) => $"{problem.Crew[shift.Person].Name}'s shift in "
        + RulePhrases.Night(problem, shift.Night);

    private Breach BreachOf(Problem problem, ScheduledShift shift, string sentence) =>
        new(Id, RulePhrases.Subject(problem, shift), sentence);
}
