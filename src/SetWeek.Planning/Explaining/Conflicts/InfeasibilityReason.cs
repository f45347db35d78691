using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>Turns a proof of infeasibility by propagation into a sentence with its figures.</summary>
internal static class InfeasibilityReason
{
    public static Breach OfCertificates(Problem problem, RootPropagation certificates) =>
        certificates.Windows.Placement.Contradiction is { } display
            ? NoFeasibleNight(problem, certificates, display) : CapacityShortage(problem, certificates.Shortage!);

    private static Breach NoFeasibleNight(Problem problem, RootPropagation certificates, IndexedDisplay display)
    {
        if (problem.Facts is { } facts && problem.Stints.FirstOrDefault(stint => stint.Task.Display == display.Index
            && facts.BegunWork[stint.Index] is null && facts.EarliestStarts[stint.Index] == Problem.Never) is { } blocked)
            return new(RuleId.Frozen, RulePhrases.Subject(problem, blocked) with { Display = display.Id },
                $"“{blocked.Task.Name}” of “{display.Name}” is blocked, and nobody has said until when. Report a time from which "
                    + "it can go on.");
        // A kit that arrives too late also rules out the nights of successors. The task that needs the kit is the cause.
        var stint = problem.Stints.FirstOrDefault(stint => stint.Task.Release == Problem.Never
                && problem.Displays[stint.Task.Display] is { Must: true, Alternate: null })
            ?? problem.Stints.FirstOrDefault(stint => stint.Task.Display == display.Index
                && !certificates.Windows.HasNight(stint.Index));
        return stint is null
            ? new(RuleId.Whole, new RuleSubject { Display = display.Id },
                $"Both the display “{display.Name}” and its alternate must be built, but only one of them can be.")
            : new(RuleId.Whole, RulePhrases.Subject(problem, stint) with { Display = problem.Displays[stint.Task.Display].Id },
                $"The other requirements leave no night for “{stint.Task.Name}” of "
                    + $"“{problem.Displays[stint.Task.Display].Name}”.");
    }

    private static Breach CapacityShortage(Problem problem, EnergeticReasoning.CapacityShortage shortage)
    {
        var (first, last) = (problem.Nights[shortage.FirstNight].Id, problem.Nights[shortage.LastNight].Id);
        var (when, night) = first == last ? ($"in {WeekPhrases.Night(problem.Week, first)}", first)
            : ($"from {WeekPhrases.Night(problem.Week, first)} to {WeekPhrases.Night(problem.Week, last)}", null);
        if (shortage.Equipment is { } index)
        {
            var piece = problem.Week.Store.Equipment[index].Id;
            return new(RuleId.Equipment, new RuleSubject { Equipment = piece, Night = night },
                $"Work with “{piece}” needs {RulePhrases.Duration((int)shortage.Demand)} {when}; at most "
                    + $"{RulePhrases.Duration((int)shortage.Capacity)} are available.");
        }
        var people = problem.Crew.Where(person => HallSets.Contains(shortage.Set, person.Index)).ToArray();
        var skill = people.Length == problem.Crew.Count ? null : problem.Skills.FirstOrDefault(skill =>
            problem.Crew.All(person => people.Contains(person) == person.Levels[problem.SkillOf(skill)] > 0));
        var who = skill is not null ? $"for people with the skill “{skill}”"
            : people.Length == problem.Crew.Count ? "for the crew"
                : $"that only {WeekPhrases.List([.. people.Select(person => person.Name)])} can do";
        return new(skill is null ? RuleId.Availability : RuleId.Skill, new RuleSubject { Skill = skill, Night = night },
            $"Work {who} needs {RulePhrases.Duration((int)shortage.Demand)} {when}; they are available for at most "
                + $"{RulePhrases.Duration((int)shortage.Capacity)}.");
    }

    /// <summary>True if both are about the same task, skill or equipment.</summary>
    public static bool SharesSubject(RuleSubject ruleSubject, RuleSubject proofSubject) =>
        (ruleSubject.Task is not null && ruleSubject.Task == proofSubject.Task)
        || (ruleSubject.Skill is not null && ruleSubject.Skill == proofSubject.Skill)
        || (ruleSubject.Equipment is not null && ruleSubject.Equipment == proofSubject.Equipment);
}
