using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// Who of the crew could be on the stint at some moment, all other work standing, and what stops the others: asked of the
/// rules themselves, one person's week at a time.
/// </summary>
internal sealed class PeopleHolds(Subject subject, Move move)
{
    private static readonly IRule[] OfTheirTime = [.. AllRules.InOrder.Where(rule =>
        rule.Id is "window" or "availability" or "on-shift" or "shift-length" or "break" or "rest"
            or "young-worker" or "frozen")];

    private readonly Problem problem = subject.Problem;
    private readonly Crewing crewing = new(subject.Problem, subject.Way);
    private readonly Dictionary<(string Rule, int Person, int Night, int Other), Hold> known = [];

    /// <summary>Has any skill that it asks for, at its level.</summary>
    public bool Able(int person) => subject.Way.Posts.Any(post => problem.Crew[person].Has(post));

    /// <summary>Those who fill its posts, the first of the list before the later; null where they do not fill them all.</summary>
    public Hand[]? Crew(IReadOnlyList<int> people)
    {
        Hand[] hands = [.. crewing.HandsOf(people).Where(hand => hand.Skill >= 0)];
        return hands.Length == subject.Way.People ? hands : null;
    }

    /// <summary>Everything that stops one person; nothing where they could be on it.</summary>
    public IReadOnlyList<Hold> Of(int person, int night, int from)
    {
        var span = new Span(from, from + subject.Minutes);
        var holds = subject.Others
            .Where(other => other.Span.Overlaps(span) && other.People.Any(hand => hand.Person == person))
            .Select(other => Busy(person, other)).ToList();
        if (holds.Count == 0 && IsOn(person, night, span) && !Barred(person)) return holds;
        var alone = move.Alone(person, night, from);
        var id = problem.Crew[person].Id;
        foreach (var breach in OfTheirTime.SelectMany(rule => rule.Check(problem, alone)))
            // The frozen rule misses everybody else in a week of one person's: only what it says of their shift counts.
            if (!breach.OnlyFacts && breach.About.Person == id && !(breach.Rule == "frozen" && breach.About.Task is not null)) 
                holds.Add(Named(person, night, breach));
        return holds;
    }

    private bool IsOn(int person, int night, Span span) => subject.Plan.Shifts.Any(shift =>
        shift.Person == person && shift.Night == night && shift.Span.Contains(span) && shift.Break?.Overlaps(span) != true);

    private bool Barred(int person) => problem.Crew[person].Barred.Any(subject.Task.Traits.Contains);

    private Hold Busy(int person, Work other)
    {
        var key = ("one-place", person, other.Night, Array.IndexOf([.. subject.Others], other));
        if (!known.TryGetValue(key, out var hold))
            known[key] = hold = new Hold("one-place", Say.About(problem, subject.Work) with { Person = problem.Crew[person].Id },
                $"{problem.Crew[person].Name} is at {Say.Work(problem, other).TrimEnd(',')} until {Say.At(problem, other.To)}.")
                { By = Say.About(problem, other), Until = other.To };
        return hold;
    }

    /// <summary>The nearest start at which it stops the person gives the sentence.</summary>
    private Hold Named(int person, int night, Breach breach)
    {
        var key = (breach.Rule, person, night, -1);
        if (!known.TryGetValue(key, out var hold)) known[key] = hold = new Hold(breach.Rule, breach.About, breach.Sentence);
        return hold;
    }
}
