using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Rules.Form;

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
                    $"{RulePhrases.Work(problem, begun)} has begun and does not stay as it is.");
        foreach (var begun in facts.BegunCleanDowns)
            if (!schedule.Work.Any(work => Same(begun, work)))
                yield return new Breach(Id, RulePhrases.Subject(problem, begun),
                    $"{RulePhrases.Work(problem, begun)} has begun and does not stay as it is.");
        foreach (var work in schedule.Work)
        {
            if (work.Stint is { } index ? facts.BegunWork[index] is not null : facts.BegunCleanDowns.Any(down => Same(down, work)))
                continue;
            if (work.From < facts.Now)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} is new and starts {RulePhrases.Time(problem, work.From)}, before now, "
                        + $"{RulePhrases.Time(problem, facts.Now)}.");
            if (work.Stint is not { } stint) continue;
            if (work.From < facts.EarliestStarts[stint])
                yield return new Breach(Id, RulePhrases.Subject(problem, work), facts.EarliestStarts[stint] == Problem.Never
                    ? $"{RulePhrases.Work(problem, work)} is blocked, nobody knows until when, and is planned."
                    : $"{RulePhrases.Work(problem, work)} starts {RulePhrases.Time(problem, work.From)} and is blocked until "
                        + $"{RulePhrases.Time(problem, facts.EarliestStarts[stint])}.");
            if (facts.FixedModes[stint] is { } mode && work.Mode != mode)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} was begun in another way, which the rest of it keeps.");
        }
        foreach (var display in problem.Displays)
            if (facts.StaysPlaced[display.Index] && !placed[display.Index])
                yield return new Breach(Id, new RuleSubject { Display = display.Id },
                    $"Work of {display.Name} has begun, so it stays in the plan.");
    }

    private IEnumerable<Breach> ShiftBreaches(Problem problem, ReplanFacts facts, Schedule schedule)
    {
        foreach (var ended in facts.EndedShifts)
            if (!schedule.Shifts.Contains(ended))
                yield return BreachOf(problem, ended, $"{ShiftPhrase(problem, ended)} is over and does not stay as it was.");
        foreach (var begun in facts.BegunShifts)
        {
            var kept = schedule.Shifts.FirstOrDefault(shift => SameStart(shift, begun));
            if (kept is null)
                yield return BreachOf(problem, begun,
                    $"{ShiftPhrase(problem, begun)} has begun and does not keep its start, {RulePhrases.Time(problem, begun.From)}.");
            else if (kept.To < facts.Now)
                yield return BreachOf(problem, kept,
                    $"{ShiftPhrase(problem, kept)} ends {RulePhrases.Time(problem, kept.To)}, before now, {RulePhrases.Time(problem, facts.Now)}.");
            else if (begun.Break is { } rest && rest.From < facts.Now ? kept.Break != rest : kept.Break?.From < facts.Now)
                yield return BreachOf(problem, kept,
                    $"{ShiftPhrase(problem, kept)} has another break than the one that began, or one that starts before now.");
        }
        foreach (var shift in schedule.Shifts)
            if (shift.From < facts.Now && !facts.Published.Shifts.Any(old => SameStart(old, shift)))
                yield return BreachOf(problem, shift,
                    $"{ShiftPhrase(problem, shift)} is new and starts {RulePhrases.Time(problem, shift.From)}, before now, "
                        + $"{RulePhrases.Time(problem, facts.Now)}.");
        foreach (var night in problem.Nights)
            if (night.Closes <= facts.Now && schedule.Keyholders[night.Index] != facts.Published.Keyholders[night.Index])
                yield return new Breach(Id, new RuleSubject { Night = night.Id },
                    $"{WeekPhrases.CapitalisedNight(problem.Week, night.Id)} is over and keeps the keyholder that it had.");
    }

    private static bool Same(ScheduledWork one, ScheduledWork other) =>
        one.Night == other.Night && one.Stint == other.Stint && one.Mode == other.Mode && one.Zone == other.Zone
        && one.Span == other.Span && one.Assignments.Count == other.Assignments.Count && one.Assignments.All(other.Assignments.Contains);

    private static bool SameStart(ScheduledShift one, ScheduledShift other) =>
        one.Person == other.Person && one.Night == other.Night && one.From == other.From;

    private static string ShiftPhrase(Problem problem, ScheduledShift shift) => $"{problem.Crew[shift.Person].Name}'s shift in "
        + RulePhrases.Night(problem, shift.Night);

    private Breach BreachOf(Problem problem, ScheduledShift shift, string sentence) => new(Id, RulePhrases.Subject(problem, shift), sentence);
}
