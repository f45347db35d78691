using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>What a stint waits for: the tasks that it is after, the part before it, everything where it comes last.</summary>
internal static class OrderHolds
{
    public static IEnumerable<Hold> Of(Subject subject) =>
        [.. Before(subject), .. Parts(subject), .. Last(subject), .. Followers(subject)];

    private static IEnumerable<Hold> Before(Subject subject)
    {
        var problem = subject.Problem;
        foreach (var link in subject.Task.After)
        {
            var before = problem.Activities[link.Task];
            if (subject.ByStint[before.LastStint] is not { } last) continue;
            var (about, by) = (Say.About(problem, subject.Work), Say.About(problem, last));
            var name = Say.Task(problem, before);
            yield return new Hold("after", about, $"{name} comes before it and ends {Say.At(problem, last.To)}.",
                Subject.Before(last.To))
                { By = by, Until = last.To };
            // The paint is wet as long as it is not on the wall, too.
            if (link.DryMinutes > 0)
                yield return new Hold("drying", about, $"{name} dries until {Say.At(problem, last.To + link.DryMinutes)}.",
                    Subject.Before(last.To + link.DryMinutes)) { By = by, Until = last.To + link.DryMinutes };
            if (link.SameNight && last.Night <= subject.Work.Night && !problem.Passed(problem.Nights[last.Night].Closes))
                yield return new Hold("same-night", about,
                    $"It must be done in {Say.Night(problem, last.Night)}, where {name} leaves it half-secured.",
                    Subject.Before(problem.Nights[last.Night].Opens)) { By = by, Until = problem.Nights[last.Night].Opens };
        }
    }

    private static IEnumerable<Hold> Parts(Subject subject)
    {
        if (subject.Stint.Number > 1 && subject.ByStint[subject.Stint.Index - 1] is { } before)
            yield return new Hold("whole", Say.About(subject.Problem, subject.Work),
                $"Part {subject.Stint.Number - 1} of {subject.Task.StintCount} comes before it and ends "
                    + $"{Say.At(subject.Problem, before.To)}.",
                Subject.Before(before.To)) { By = Say.About(subject.Problem, before), Until = before.To };
    }

    private static IEnumerable<Hold> Last(Subject subject)
    {
        if (!subject.Task.Last || subject.Stint.Number > 1) yield break;
        var others = subject.Others
            .Where(work => work.Stint is not { } stint || subject.Problem.Stints[stint].Task != subject.Task);
        if (others.MaxBy(work => work.To) is { } latest)
            yield return new Hold("last", Say.About(subject.Problem, latest),
                $"It comes last, and {Say.Work(subject.Problem, latest)} ends {Say.At(subject.Problem, latest.To)}.",
                Subject.Before(latest.To)) { By = Say.About(subject.Problem, latest), Until = latest.To };
    }

    /// <summary>What must be secured in the night of this one keeps it in that night.</summary>
    private static IEnumerable<Hold> Followers(Subject subject)
    {
        if (!subject.Stint.IsLast) yield break;
        var (problem, opens) = (subject.Problem, subject.Problem.Nights[subject.Work.Night].Opens);
        foreach (var work in subject.Others)
            if (work.Stint is { } index && work.Night == subject.Work.Night
                && problem.Stints[index].Task.After.Any(link => link.Task == subject.Task.Index && link.SameNight))
                yield return new Hold("same-night", Say.About(problem, work),
                    $"{Say.Work(problem, work)} must be done in the same night as it, and is in "
                        + $"{InWords.Night(problem.Week, problem.Nights[work.Night].Id)}.",
                    Subject.Before(opens)) { By = Say.About(problem, work), Until = opens };
    }
}
