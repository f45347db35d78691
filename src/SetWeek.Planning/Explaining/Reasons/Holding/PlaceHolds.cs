using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>What the place keeps a stint from: room in its zone, zones that are closed, clean-downs, equipment in use.</summary>
internal static class PlaceHolds
{
    public static IEnumerable<Hold> Of(Subject subject) =>
        [.. Room(subject), .. Closed(subject), .. Closes(subject), .. CleanDowns(subject), .. Equipment(subject)];

    private static IEnumerable<Hold> Room(Subject subject)
    {
        var (problem, zone) = (subject.Problem, subject.Problem.Zones[subject.Work.Zone]);
        if (zone.MaxPeople == Problem.Never || subject.Work.People.Count == 0) return [];
        var left = zone.MaxPeople - subject.Work.People.Count;
        return Crowded(subject, left, other => other.Zone == zone.Index ? other.People.Count : 0)
            .Select(busy => new Hold("zone-room", Say.About(problem, subject.Work) with { Zone = zone.Id },
                $"{zone.Name} has room for {zone.MaxPeople}, and {Names(problem, busy.Works)} there until "
                    + $"{Say.At(problem, busy.Span.To)}.",
                subject.During(busy.Span)) { By = Say.About(problem, busy.Works[^1]), Until = busy.Span.To });
    }

    private static IEnumerable<Hold> Equipment(Subject subject) =>
        from pieces in subject.Way.Equipment
        let problem = subject.Problem
        let count = problem.EquipmentCounts[pieces.Equipment]
        let id = problem.Week.Store.Equipment[pieces.Equipment].Id
        from busy in Crowded(subject, count - pieces.Count, other => problem.WayOf(other)?.Equipment
            .Where(use => use.Equipment == pieces.Equipment).Sum(use => use.Count) ?? 0)
        select new Hold("equipment", Say.About(problem, subject.Work) with { Equipment = id },
            $"The store has {count} of “{id}”, and {Names(problem, busy.Works)} in the way until "
                + $"{Say.At(problem, busy.Span.To)}.",
            subject.During(busy.Span)) { By = Say.About(problem, busy.Works[^1]), Until = busy.Span.To };

    /// <summary>Spans in which other work takes more than is left over, and that work, by its end.</summary>
    private static IEnumerable<(Span Span, Work[] Works)> Crowded(Subject subject, int left, Func<Work, int> takes)
    {
        var works = subject.Others.Where(other => takes(other) > 0).ToArray();
        var moments = works.SelectMany(work => new[] { work.From, work.To }).Distinct().Order().ToArray();
        int? since = null;
        foreach (var moment in moments)
        {
            var over = works.Where(work => work.From <= moment && moment < work.To).Sum(takes) > left;
            if (over) since ??= moment;
            if (over || since is not { } from) continue;
            var span = new Span(from, moment);
            yield return (span, [.. works.Where(work => work.Span.Overlaps(span)).OrderBy(work => work.To)]);
            since = null;
        }
    }

    private static IEnumerable<Hold> Closed(Subject subject)
    {
        var problem = subject.Problem;
        foreach (var task in problem.Activities)
        {
            if (task.ClosesZone == 0 || task.Zone != subject.Work.Zone || task == subject.Task) continue;
            if (subject.ByStint[task.LastStint] is not { } last) continue;
            var until = last.To + task.ClosesZone;
            yield return new Hold("zone-closed", Say.About(problem, subject.Work) with { Zone = problem.Zones[task.Zone].Id },
                $"{Say.Task(problem, task)} closes {problem.Zones[task.Zone].Name} until {Say.At(problem, until)}.",
                subject.During(new(last.To, until))) { By = Say.About(problem, last), Until = until };
        }
    }

    /// <summary>It closes the zone itself, while others would work there.</summary>
    private static IEnumerable<Hold> Closes(Subject subject)
    {
        var (problem, closes) = (subject.Problem, subject.Task.ClosesZone);
        if (closes == 0 || !subject.Stint.IsLast) yield break;
        foreach (var other in subject.Others)
        {
            if (other.Zone != subject.Work.Zone || (other.Stint is { } stint && problem.Stints[stint].Task == subject.Task))
                continue;
            yield return new Hold("zone-closed", Say.About(problem, other) with { Zone = problem.Zones[other.Zone].Id },
                $"It closes {problem.Zones[other.Zone].Name} for {Say.Length(closes)} after it, and {Say.Work(problem, other)} "
                    + $"is there until {Say.At(problem, other.To)}.",
                new Span(other.From - subject.Minutes - closes + 1, other.To - subject.Minutes))
                { By = Say.About(problem, other) };
        }
    }

    /// <summary>
    /// In its own night the clean-down comes after it; in an earlier one that may be too soon, or none is planned.
    /// </summary>
    private static IEnumerable<Hold> CleanDowns(Subject subject)
    {
        var (problem, zone) = (subject.Problem, subject.Problem.Zones[subject.Work.Zone]);
        if (subject.Task.Last || zone.CleanDown is null) yield break;
        foreach (var night in problem.Nights.Take(subject.Work.Night))
        {
            var about = new About { Night = night.Id, Zone = zone.Id };
            var down = subject.Others.FirstOrDefault(other =>
                other.IsCleanDown && other.Zone == zone.Index && other.Night == night.Index);
            yield return down is null
                ? new Hold("clean-down", about,
                    $"{zone.Name} would want a clean-down in {Say.Night(problem, night.Index)}, where none is planned.",
                    night.Span)
                : new Hold("clean-down", about,
                    $"{zone.Name} is cleaned down {Say.At(problem, down.From)}, after all work there in "
                        + $"{Say.Night(problem, night.Index)}.",
                    new Span(down.From - subject.Minutes + 1, night.Closes)) { By = about };
        }
    }

    private static string Names(Problem problem, Work[] works)
    {
        string[] names = [.. works.Select(work => Say.Work(problem, work).TrimEnd(','))];
        return names.Length == 1 ? $"{names[0]} is" : $"{string.Join(", ", names[..^1])} and {names[^1]} are";
    }
}
