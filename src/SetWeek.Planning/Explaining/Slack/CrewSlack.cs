using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Slack;

/// <summary>
/// Where the people of a plan have no slack: nobody who could stand in, no rest more than asked, no minute longer.
/// </summary>
internal static class CrewSlack
{
    /// <summary>No other keyholder's shift spans all the others of the night.</summary>
    public static IEnumerable<Breach> Keyholders(Problem problem, Schedule schedule, IReadOnlyList<ScheduledShift> shifts) =>
        !problem.Rules.KeyholderPresent ? [] : TightRules.InEachNight(problem, night =>
        {
            var there = shifts.Where(shift => shift.Night == night.Index).ToArray();
            if (there.Length == 0 || schedule.Keyholders[night.Index] is not { } holder) return null;
            var others = there.Where(shift => shift.Person != holder && problem.Crew[shift.Person].Keyholder
                && there.All(other => shift.Span.Contains(other.Span)));
            return others.Any() ? null : new Breach(RuleId.Keyholder, new RuleSubject { Night = night.Id, Person = problem.Crew[holder].Id },
                $"{problem.Crew[holder].Name} alone holds the keys for the whole of {WeekPhrases.Night(problem.Week, night.Id)}.");
        });

    /// <summary>
    /// For some work of a night nobody else who is on shift and free could stand in: with one person fewer who has the skill it
    /// would not be done as planned.
    /// </summary>
    public static IEnumerable<Breach> Skills(Problem problem, Schedule schedule, IReadOnlyList<ScheduledWork> planned) =>
        from night in problem.Nights
        let works = planned.Where(work => work.Night == night.Index && problem.ModeOf(work) is not null).ToArray()
        from skill in works.SelectMany(work => work.Assignments).Select(assignment => assignment.Skill)
            .Where(skill => skill >= 0).Distinct().Order()
        let asking = works.Where(work => work.Assignments.Any(assignment => assignment.Skill == skill)).ToArray()
        let alone = asking.Where(work => !HasStandIn(problem, schedule, work, skill)).ToArray()
        where alone.Length > 0
        orderby alone.Length descending
        select new Breach(RuleId.Skill, (alone.Length == 1 ? RulePhrases.Subject(problem, alone[0]) : new RuleSubject()) with
            { Night = night.Id, Skill = problem.Skills[skill] },
            $"In {WeekPhrases.Night(problem.Week, night.Id)} nobody else on shift could stand in with “{problem.Skills[skill]}” at "
                + (alone.Length == 1 ? $"{RulePhrases.Work(problem, alone[0])}."
                    : alone.Length == asking.Length ? $"any of its {alone.Length} pieces of work."
                    : $"{alone.Length} of its {asking.Length} pieces of work."));

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
                        $"{RulePhrases.Shift(problem, shift)} leaves just the {RulePhrases.Duration(person.MinRest)} of rest that there must be.");
            }
        }
    }

    public static IEnumerable<Breach> Under18(Problem problem, IReadOnlyList<ScheduledShift> shifts) =>
        from shift in shifts
        let until = problem.Crew[shift.Person].LatestShiftEnds[shift.Night]
        where TightRules.IsTight(problem, until - shift.To)
        select new Breach(RuleId.YoungWorker, RulePhrases.Subject(problem, shift),
            $"{RulePhrases.Shift(problem, shift)} ends when {problem.Crew[shift.Person].Name}, who is under 18, must stop.");

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
            ? $"{RulePhrases.Shift(problem, shift)} ends when {person.Name} has to go."
            : $"{RulePhrases.Shift(problem, shift)} starts as soon as {person.Name} can come.");

    public static IEnumerable<Breach> ShiftLength(Problem problem, Schedule schedule, IReadOnlyList<ScheduledShift> shifts)
    {
        foreach (var person in problem.Crew)
        {
            var count = schedule.Shifts.Count(shift => shift.Person == person.Index);
            if (count > 0 && count == person.MaxNights && count < problem.Nights.Count)
                yield return new(RuleId.ShiftLength, new RuleSubject { Person = person.Id },
                    $"{person.Name} works all {count} nights that they may.");
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

    public static IEnumerable<Breach> TwoPerson(Problem problem, IReadOnlyList<ScheduledShift> shifts) =>
        problem.Rules.MinPeople is not (> 1 and var least) ? [] : TightRules.InEachNight(problem, night =>
        {
            var there = shifts.Where(shift => shift.Night == night.Index).ToArray();
            var few = there.SelectMany(shift => new[] { shift.From, shift.To }).Order()
                .Select(moment => (Moment: moment, Count: there.Count(shift => shift.From <= moment && moment < shift.To)))
                .Where(one => one.Count == least).Select(one => (int?)one.Moment).FirstOrDefault();
            return few is not { } from ? null : new Breach(RuleId.TwoPerson, new RuleSubject { Night = night.Id },
                $"In {WeekPhrases.Night(problem.Week, night.Id)} just {WeekPhrases.People(least)} are on shift from {RulePhrases.Time(problem, from)}, "
                    + "the least that there must be.");
        });

    /// <summary>
    /// Somebody on shift for all of it, out of their break, at nothing else, and able to take the place of one with that
    /// skill.
    /// </summary>
    private static bool HasStandIn(Problem problem, Schedule schedule, ScheduledWork work, int skill)
    {
        var posts = problem.ModeOf(work)!.RequiredSkills.Where(post => post.Skill == skill).ToArray();
        var traits = work.Stint is { } stint ? problem.Stints[stint].Task.Traits : null;
        return schedule.Shifts.Any(shift => shift.Night == work.Night && shift.Span.Contains(work.Span)
            && !(shift.Break is { } rest && rest.Overlaps(work.Span))
            && posts.All(post => problem.Crew[shift.Person].Meets(post))
            && !(traits is not null && problem.Crew[shift.Person].BarredTraits.Any(traits.Contains))
            && !schedule.Work
                .Any(other => other.Span.Overlaps(work.Span) && other.Assignments.Any(assignment => assignment.Person == shift.Person)));
    }
}
