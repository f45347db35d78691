using SetWeek.Model.Plans;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Restrictions of a stint's start by other work: predecessors, earlier stints, same-night and final-task rules.
/// </summary>
internal static class PrecedenceRestrictions
{
    public static IEnumerable<StartRestriction> Of(ExplanationSubject subject) =>
        [.. Predecessors(subject), .. PreviousStint(subject), .. FinalTask(subject), .. SameNightSuccessors(subject)];

    private static IEnumerable<StartRestriction> Predecessors(ExplanationSubject subject)
    {
        var problem = subject.Problem;
        foreach (var precedence in subject.Task.Precedences)
        {
            var before = problem.Tasks[precedence.Predecessor];
            if (subject.WorkByStint[before.LastStint] is not { } last) continue;
            var (about, by) = (RulePhrases.Subject(problem, subject.Work), RulePhrases.Subject(problem, last));
            var name = RulePhrases.Task(problem, before);
            yield return new StartRestriction(RuleId.After, about,
                $"{name} comes before it and ends {RulePhrases.Time(problem, last.To)}.",
                ExplanationSubject.StartsBefore(last.To))
                { By = by, Until = last.To };
            // The drying restriction forbids starts before the predecessor too, so it alone may explain a start.
            var dry = last.To + precedence.LagMinutes;
            if (precedence.LagMinutes > 0)
                yield return new StartRestriction(RuleId.Drying, about,
                    $"{name} dries until {RulePhrases.Time(problem, dry)}.", ExplanationSubject.StartsBefore(dry))
                    { By = by, Until = dry };
            if (precedence.SameNight && last.Night <= subject.Work.Night && !problem.HasPassed(problem.Nights[last.Night].Closes))
                yield return new StartRestriction(RuleId.SameNight, about,
                    $"It must be done in {RulePhrases.Night(problem, last.Night)}, the same night as {name}.",
                    ExplanationSubject.StartsBefore(problem.Nights[last.Night].Opens))
                    { By = by, Until = problem.Nights[last.Night].Opens };
        }
    }

    private static IEnumerable<StartRestriction> PreviousStint(ExplanationSubject subject)
    {
        if (subject.Stint.Number > 1 && subject.WorkByStint[subject.Stint.Index - 1] is { } before)
            yield return new StartRestriction(RuleId.Whole, RulePhrases.Subject(subject.Problem, subject.Work),
                $"Part {subject.Stint.Number - 1} of {subject.Task.StintCount} comes before it and ends "
                    + $"{RulePhrases.Time(subject.Problem, before.To)}.",
                ExplanationSubject.StartsBefore(before.To))
                { By = RulePhrases.Subject(subject.Problem, before), Until = before.To };
    }

    private static IEnumerable<StartRestriction> FinalTask(ExplanationSubject subject)
    {
        if (!subject.Task.IsLastTask || subject.Stint.Number > 1) yield break;
        var others = subject.OtherWork
            .Where(work => work.Stint is not { } stint || subject.Problem.Stints[stint].Task != subject.Task);
        if (others.MaxBy(work => work.To) is { } latest)
            yield return new StartRestriction(RuleId.Last, RulePhrases.Subject(subject.Problem, latest),
                $"It must be done last, and {RulePhrases.Work(subject.Problem, latest)} ends "
                    + $"{RulePhrases.Time(subject.Problem, latest.To)}.",
                ExplanationSubject.StartsBefore(latest.To))
                { By = RulePhrases.Subject(subject.Problem, latest), Until = latest.To };
    }

    /// <summary>Work that must follow in the same night keeps the stint in that night.</summary>
    private static IEnumerable<StartRestriction> SameNightSuccessors(ExplanationSubject subject)
    {
        if (!subject.Stint.IsLast) yield break;
        var (problem, opens) = (subject.Problem, subject.Problem.Nights[subject.Work.Night].Opens);
        foreach (var work in subject.OtherWork)
            if (work.Stint is { } index && work.Night == subject.Work.Night
                && problem.Stints[index].Task.Precedences.Any(precedence =>
                    precedence.Predecessor == subject.Task.Index && precedence.SameNight))
                yield return new StartRestriction(RuleId.SameNight, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} must be done in the same night as it, and is planned in "
                        + $"{WeekPhrases.Night(problem.Week, problem.Nights[work.Night].Id)}.",
                    ExplanationSubject.StartsBefore(opens)) { By = RulePhrases.Subject(problem, work), Until = opens };
    }
}
