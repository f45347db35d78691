using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>Restrictions of a stint's start by resources: places in its zone, closed zones, clean-downs and equipment.</summary>
internal static class ResourceRestrictions
{
    public static IEnumerable<StartRestriction> Of(ExplanationSubject subject) =>
    [
        .. ZoneCapacity(subject), .. ZoneClosedByOthers(subject), .. ZoneClosedByStint(subject), .. CleanDowns(subject),
        .. Equipment(subject),
    ];

    private static IEnumerable<StartRestriction> ZoneCapacity(ExplanationSubject subject)
    {
        var (problem, zone) = (subject.Problem, subject.Problem.Zones[subject.Work.Zone]);
        if (zone.MaxPeople == Problem.Never || subject.Work.Assignments.Count == 0) return [];
        var remaining = zone.MaxPeople - subject.Work.Assignments.Count;
        return OverloadedSpans(subject, remaining, other => other.Zone == zone.Index ? other.Assignments.Count : 0)
            .Select(busy => new StartRestriction(RuleId.ZoneRoom,
                RulePhrases.Subject(problem, subject.Work) with { Zone = zone.Id },
                $"{zone.Name} has room for {WeekPhrases.People(zone.MaxPeople)}, and {Names(problem, busy.Works)} in it until "
                    + $"{RulePhrases.Time(problem, busy.Span.To)}.",
                subject.StartsOverlapping(busy.Span))
                { By = RulePhrases.Subject(problem, busy.Works[^1]), Until = busy.Span.To });
    }

    private static IEnumerable<StartRestriction> Equipment(ExplanationSubject subject) =>
        from pieces in subject.Mode.Equipment
        let problem = subject.Problem
        let count = problem.EquipmentCapacities[pieces.Equipment]
        let id = problem.Week.Store.Equipment[pieces.Equipment].Id
        from busy in OverloadedSpans(subject, count - pieces.Count, other => problem.ModeOf(other)?.Equipment
            .Where(use => use.Equipment == pieces.Equipment).Sum(use => use.Count) ?? 0)
        select new StartRestriction(RuleId.Equipment, RulePhrases.Subject(problem, subject.Work) with { Equipment = id },
            $"The store has {count} of “{id}”, and {Names(problem, busy.Works)} using {(count == 1 ? "it" : "them")} until "
                + $"{RulePhrases.Time(problem, busy.Span.To)}.",
            subject.StartsOverlapping(busy.Span)) { By = RulePhrases.Subject(problem, busy.Works[^1]), Until = busy.Span.To };

    /// <summary>Spans in which other work uses more than the remaining capacity, with that work in order of its end.</summary>
    private static IEnumerable<(Span Span, ScheduledWork[] Works)> OverloadedSpans(
        ExplanationSubject subject, int remainingCapacity, Func<ScheduledWork, int> usage)
    {
        var works = subject.OtherWork.Where(other => usage(other) > 0).ToArray();
        var moments = works.SelectMany(work => new[] { work.From, work.To }).Distinct().Order().ToArray();
        int? since = null;
        foreach (var moment in moments)
        {
            var over = works.Where(work => work.From <= moment && moment < work.To).Sum(usage) > remainingCapacity;
            if (over) since ??= moment;
            if (over || since is not { } from) continue;
            var span = new Span(from, moment);
            yield return (span, [.. works.Where(work => work.Span.Overlaps(span)).OrderBy(work => work.To)]);
            since = null;
        }
    }

    private static IEnumerable<StartRestriction> ZoneClosedByOthers(ExplanationSubject subject)
    {
        var problem = subject.Problem;
        foreach (var task in problem.Tasks)
        {
            if (task.ClosesZoneMinutes == 0 || task.Zone != subject.Work.Zone || task == subject.Task) continue;
            if (subject.WorkByStint[task.LastStint] is not { } last) continue;
            var until = last.To + task.ClosesZoneMinutes;
            yield return new StartRestriction(RuleId.ZoneClosed,
                RulePhrases.Subject(problem, subject.Work) with { Zone = problem.Zones[task.Zone].Id },
                $"{RulePhrases.Task(problem, task)} closes {problem.Zones[task.Zone].Name} until "
                    + $"{RulePhrases.Time(problem, until)}.",
                subject.StartsOverlapping(new(last.To, until))) { By = RulePhrases.Subject(problem, last), Until = until };
        }
    }

    /// <summary>The stint closes its zone after it, while other work is planned there.</summary>
    private static IEnumerable<StartRestriction> ZoneClosedByStint(ExplanationSubject subject)
    {
        var (problem, closes) = (subject.Problem, subject.Task.ClosesZoneMinutes);
        if (closes == 0 || !subject.Stint.IsLast) yield break;
        foreach (var other in subject.OtherWork)
        {
            if (other.Zone != subject.Work.Zone || (other.Stint is { } stint && problem.Stints[stint].Task == subject.Task))
                continue;
            yield return new StartRestriction(RuleId.ZoneClosed,
                RulePhrases.Subject(problem, other) with { Zone = problem.Zones[other.Zone].Id },
                $"After this work, {problem.Zones[other.Zone].Name} is closed for {RulePhrases.Duration(closes)}, but "
                    + $"{RulePhrases.Work(problem, other)} is in this zone until {RulePhrases.Time(problem, other.To)}.",
                new Span(other.From - subject.Minutes - closes + 1, other.To - subject.Minutes))
                { By = RulePhrases.Subject(problem, other) };
        }
    }

    /// <summary>
    /// Clean-downs of earlier nights: the stint would have to end before one, or an unplanned one would be needed.
    /// </summary>
    private static IEnumerable<StartRestriction> CleanDowns(ExplanationSubject subject)
    {
        var (problem, zone) = (subject.Problem, subject.Problem.Zones[subject.Work.Zone]);
        if (subject.Task.IsLastTask || zone.CleanDown is null) yield break;
        foreach (var night in problem.Nights.Take(subject.Work.Night))
        {
            var about = new RuleSubject { Night = night.Id, Zone = zone.Id };
            var cleanDown = subject.OtherWork.FirstOrDefault(other =>
                other.IsCleanDown && other.Zone == zone.Index && other.Night == night.Index);
            yield return cleanDown is null
                ? new StartRestriction(RuleId.CleanDown, about,
                    $"{zone.Name} would need a clean-down in {RulePhrases.Night(problem, night.Index)}, and none is planned.",
                    night.Span)
                : new StartRestriction(RuleId.CleanDown, about,
                    $"{zone.Name} is cleaned down {RulePhrases.Time(problem, cleanDown.From)}, after all work there in "
                        + $"{RulePhrases.Night(problem, night.Index)}.",
                    new Span(cleanDown.From - subject.Minutes + 1, night.Closes)) { By = about };
        }
    }

    private static string Names(Problem problem, ScheduledWork[] works)
    {
        string[] names = [.. works.Select(work => RulePhrases.Work(problem, work).TrimEnd(','))];
        return names.Length == 1 ? $"{names[0]} is" : $"{string.Join(", ", names[..^1])} and {names[^1]} are";
    }
}
