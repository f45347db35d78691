using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Slack;

/// <summary>
/// Rule instances on people that have no slack in a plan: no substitute, no rest beyond the minimum, no longer shift possible.
/// </summary>
internal static class CrewSlack
{
    /// <summary>Nights in which only one keyholder's shift spans all shifts.</summary>
    public static IEnumerable<Breach> Keyholders(Problem problem, Schedule schedule, IReadOnlyList<ScheduledShift> shifts) =>
        !problem.Rules.KeyholderPresent ? [] : TightRules.InEachNight(problem, night =>
        {
            var nightShifts = shifts.Where(shift => shift.Night == night.Index).ToArray();
            if (nightShifts.Length == 0 || schedule.Keyholders[night.Index] is not { } holder) return null;
            var others = nightShifts.Where(shift => shift.Person != holder && problem.Crew[shift.Person].Keyholder
                && nightShifts.All(other => shift.Span.Contains(other.Span)));
            return others.Any() ? null : new Breach(RuleId.Keyholder,
                new RuleSubject { Night = night.Id, Person = problem.Crew[holder].Id },
                $"{problem.Crew[holder].Name} is the only keyholder who is present for all of "
                    + $"{WeekPhrases.Night(problem.Week, night.Id)}.");
        });

    /// <summary>
    /// Skills of a night for which some work has no substitute: nobody else who is on shift and free could do it. With one person
    /// with the skill fewer, that work could not be done as planned.
    /// </summary>
    public static IEnumerable<Breach> Skills(Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned)
    {
        var byPerson = schedule.WorkByPerson();
        return from night in problem.Nights
               let works = planned.Where(work => work.Night == night.Index && problem.ModeOf(work) is not null).ToArray()
               from skill in works.SelectMany(work => work.Assignments).Select(assignment => assignment.Skill)
                   .Where(skill => skill >= 0).Distinct().Order()
               let needing = works.Where(work => work.Assignments.Any(assignment => assignment.Skill == skill)).ToArray()
               let withoutSubstitute = needing.Where(work => !HasSubstitute(problem, schedule, byPerson, work, skill)).ToArray()
               where withoutSubstitute.Length > 0
               orderby withoutSubstitute.Length descending
               select new Breach(RuleId.Skill,
                   (withoutSubstitute.Length == 1 ? RulePhrases.Subject(problem, withoutSubstitute[0]) : new RuleSubject()) with
                   { Night = night.Id, Skill = problem.Skills[skill] },
                   $"In {WeekPhrases.Night(problem.Week, night.Id)} nobody else on shift could take over "
                       + $"“{problem.Skills[skill]}” work in "
                       + (withoutSubstitute.Length == 1 ? $"{RulePhrases.Work(problem, withoutSubstitute[0]).TrimEnd(',')}."
                           : withoutSubstitute.Length == needing.Length
                               ? $"any of the {withoutSubstitute.Length} pieces of work that need it."
                           : $"{withoutSubstitute.Length} of the {needing.Length} pieces of work that need it."));
    }

    /// <summary>Shifts with the minimum rest before or after them.</summary>
    public static IEnumerable<Breach> Rest(Problem problem, Schedule schedule, IReadOnlyList<ScheduledShift> shifts)
    {
        foreach (var person in problem.Crew.Where(person => person.MinRest > 0))
        {
            var own = schedule.Shifts.Where(shift => shift.Person == person.Index).OrderBy(shift => shift.From).ToArray();
            foreach (var shift in shifts.Where(shift => shift.Person == person.Index && !problem.HasBegun(shift)))
            {
                int?[] gaps =
                [
                    .. own.Where(other => other.To <= shift.From).Select(other => (int?)(shift.From - other.To)),
                    .. person.Commitments.Where(busy => shift.From - busy.To > person.JoinMinutes)
                        .Select(busy => (int?)(shift.From - busy.To)),
                    .. person.Commitments.Where(busy => busy.From >= shift.To).Select(busy => (int?)(busy.From - shift.To)),
                ];
                if (gaps.Any(gap => TightRules.IsTight(problem, gap!.Value - person.MinRest)))
                    yield return new(RuleId.Rest, RulePhrases.Subject(problem, shift),
                        $"{RulePhrases.Shift(problem, shift)} leaves just the required rest of "
                            + $"{RulePhrases.Duration(person.MinRest)}.");
            }
        }
    }

    /// <summary>
    /// Shifts that end at the latest end allowed for people under 18. Everybody reads the plan, so the sentence is that
    /// of <see cref="Availability"/> and does not tell the age.
    /// </summary>
    public static IEnumerable<Breach> Under18(Problem problem, IReadOnlyList<ScheduledShift> shifts) =>
        from shift in shifts
        let until = problem.Crew[shift.Person].LatestShiftEnds[shift.Night]
        where TightRules.IsTight(problem, until - shift.To)
        select new Breach(RuleId.YoungWorker, RulePhrases.Subject(problem, shift),
            $"{RulePhrases.Shift(problem, shift)} ends when {problem.Crew[shift.Person].Name} must leave.");

    /// <summary>Shifts that start or end at the limit of their person's availability.</summary>
    public static IEnumerable<Breach> Availability(Problem problem, IReadOnlyList<ScheduledShift> shifts) =>
        from shift in shifts
        let person = problem.Crew[shift.Person]
        let night = problem.Nights[shift.Night]
        let entry = person.Available[shift.Night].FirstOrDefault(entry => entry.Contains(shift.Span))
        let late = entry.To < night.Closes && TightRules.IsTight(problem, entry.To - shift.To)
            || person.Commitments.Any(busy => TightRules.IsTight(problem, busy.From - shift.To))
        let early = entry.From > night.Opens && TightRules.IsTight(problem, shift.From - entry.From)
            || person.Commitments.Any(busy => TightRules.IsTight(problem, shift.From - busy.To))
        where late || early
        select new Breach(RuleId.Availability, RulePhrases.Subject(problem, shift), late
            ? $"{RulePhrases.Shift(problem, shift)} ends when {person.Name} must leave."
            : $"{RulePhrases.Shift(problem, shift)} starts as soon as {person.Name} can come.");

    /// <summary>People with their maximum number of nights, and shifts of maximum length.</summary>
    public static IEnumerable<Breach> ShiftLength(Problem problem, Schedule schedule, IReadOnlyList<ScheduledShift> shifts)
    {
        foreach (var person in problem.Crew)
        {
            var count = schedule.Shifts.Count(shift => shift.Person == person.Index);
            if (count > 0 && count == person.MaxNights && count < problem.Nights.Count)
                yield return new(RuleId.ShiftLength, new RuleSubject { Person = person.Id },
                    $"{person.Name} works {(count == 1 ? "1 night" : $"{count} nights")}, which is the "
                        + "maximum allowed for them.");
        }
        foreach (var shift in shifts)
        {
            var person = problem.Crew[shift.Person];
            var joined = person.Commitments.Where(busy => busy.To <= shift.From && shift.From - busy.To <= person.JoinMinutes)
                .Sum(busy => busy.Minutes);
            if (TightRules.IsTight(problem, Math.Min(person.MaxShift - joined, person.MaxMinutesPerNight) - shift.Span.Minutes))
                yield return new(RuleId.ShiftLength, RulePhrases.Subject(problem, shift),
                    $"{RulePhrases.Shift(problem, shift)} is as long as it may be.");
        }
    }

    /// <summary>
    /// Breaks that are as near to an end of their shift, or as far from it, as they may be; and shifts as long as they may be
    /// without one.
    /// </summary>
    public static IEnumerable<Breach> Breaks(Problem problem, IReadOnlyList<ScheduledShift> shifts)
    {
        foreach (var shift in shifts.Where(shift => !problem.HasBegun(shift)))
        {
            var person = problem.Crew[shift.Person];
            if (shift.Break is not { } rest)
            {
                if (TightRules.IsTight(problem, person.BreakAfter - shift.Span.Minutes))
                    yield return new(RuleId.Break, RulePhrases.Subject(problem, shift),
                        $"{RulePhrases.Shift(problem, shift)} is as long as it may be without a break.");
                continue;
            }
            var (before, after) = (rest.From - shift.From, shift.To - rest.To);
            var (clear, longest) = (RulePhrases.Duration(person.BreakClear), RulePhrases.Duration(person.BreakAfter));
            string[] limits =
            [
                .. person.BreakClear > 0 && TightRules.IsTight(problem, before - person.BreakClear)
                    ? [$"starts as soon as it may, {clear} into the shift"] : Array.Empty<string>(),
                .. TightRules.IsTight(problem, person.BreakAfter - before)
                    ? [$"follows the longest stretch allowed, {longest}"] : Array.Empty<string>(),
                .. person.BreakClear > 0 && TightRules.IsTight(problem, after - person.BreakClear)
                    ? [$"ends as late as it may, {clear} before the shift does"] : Array.Empty<string>(),
                .. TightRules.IsTight(problem, person.BreakAfter - after)
                    ? [$"leaves the longest stretch allowed, {longest}"] : Array.Empty<string>(),
            ];
            if (limits.Length > 0)
                yield return new(RuleId.Break, RulePhrases.Subject(problem, shift),
                    $"{person.Name}'s break {RulePhrases.Span(problem, rest)} {WeekPhrases.List(limits)}.");
        }
    }

    /// <summary>Nights in which work starts as soon as the briefing of its people is over; one line a night.</summary>
    public static IEnumerable<Breach> Briefing(
        Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned) => TightRules.InEachNight(problem, night =>
        {
            var shifts = schedule.ShiftsByPersonNight();
            var people = planned.Where(work => work.Night == night.Index)
                .SelectMany(work => work.Assignments.Select(assignment => (assignment.Person, work.From)))
                .Where(one => problem.Crew[one.Person].Briefing is > 0 and var briefing
                    && shifts.TryGetValue((one.Person, night.Index), out var shift) && !problem.HasBegun(shift)
                    && TightRules.IsTight(problem, one.From - shift.From - briefing))
                .Select(one => one.Person).Distinct().Order().ToArray();
            if (people.Length == 0) return null;
            var about = new RuleSubject { Night = night.Id, Person = people.Length == 1 ? problem.Crew[people[0]].Id : null };
            return new Breach(RuleId.Briefing, about,
                $"In {WeekPhrases.Night(problem.Week, night.Id)} "
                    + $"{WeekPhrases.ListFirst([.. people.Select(person => problem.Crew[person].Name)])} "
                    + $"{(people.Length == 1 ? "starts" : "start")} work as soon as the briefing is over.");
        });

    /// <summary>Nights with a time at which only the minimum number of people is on shift.</summary>
    public static IEnumerable<Breach> TwoPerson(Problem problem, IReadOnlyList<ScheduledShift> shifts) =>
        problem.Rules.MinPeople is not (> 1 and var least) ? [] : TightRules.InEachNight(problem, night =>
        {
            var nightShifts = shifts.Where(shift => shift.Night == night.Index).ToArray();
            var firstTightMinute = nightShifts.SelectMany(shift => new[] { shift.From, shift.To }).Order()
                .Where(minute => nightShifts.Count(shift => shift.From <= minute && minute < shift.To) == least)
                .Select(minute => (int?)minute).FirstOrDefault();
            return firstTightMinute is not { } from ? null : new Breach(RuleId.TwoPerson, new RuleSubject { Night = night.Id },
                $"From {RulePhrases.Time(problem, from)} the crew on shift is {WeekPhrases.People(least)}, "
                    + "the required minimum.");
        });

    /// <summary>
    /// True if somebody else could do the skill's part of the work: on shift for all of it, not on a break, without other work,
    /// with the required level, and not barred from the task.
    /// </summary>
    private static bool HasSubstitute(
        Problem problem, Schedule schedule, ILookup<int, ScheduledWork> byPerson, ScheduledWork work, int skill)
    {
        var requirements = problem.ModeOf(work)!.RequiredSkills.Where(requirement => requirement.Skill == skill).ToArray();
        var traits = work.Stint is { } stint ? problem.Stints[stint].Task.Traits : null;
        return schedule.Shifts.Any(shift => shift.Night == work.Night && shift.Span.Contains(work.Span)
            && !(shift.Break is { } rest && rest.Overlaps(work.Span))
            && requirements.All(requirement => problem.Crew[shift.Person].Meets(requirement))
            && !(traits is not null && problem.Crew[shift.Person].BarredTraits.Any(traits.Contains))
            && !byPerson[shift.Person].Any(other => other.Span.Overlaps(work.Span)));
    }
}
