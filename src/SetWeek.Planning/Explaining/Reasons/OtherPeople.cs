using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Reasons.Holding;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Who else could be in the place of each person of a stint: by exchanging the two and nothing else, asked of the check; and
/// with the night's shifts, and the people of its other work, arranged anew around it, by solving.
/// </summary>
internal static class OtherPeople
{
    public static IReadOnlyList<WhyPerson> Of(Subject subject, Budget budget)
    {
        var problem = subject.Problem;
        var (move, before) = (new Move(subject), Checker.Check(problem, subject.Plan).ToHashSet());
        var people = new PeopleHolds(subject, move);
        var exchanges = (from hand in subject.Work.People
                         from other in problem.Crew
                         where !subject.Work.People.Any(one => one.Person == other.Index)
                         select Exchanged(subject, hand, other, move, people, before)).ToArray();
        // Whoever could come as things stand is asked about first; the time may not do for all.
        var (answers, rooms) = (new Dictionary<Exchange, OtherPerson>(), new CrewRooms(problem));
        Exchange[] inTurn = [.. exchanges.OrderBy(one => one.Plan is null ? 1 : 0)];
        foreach (var (at, exchange) in inTurn.Index())
        {
            var part = budget.Part(budget.Left / (inTurn.Length - at));
            answers[exchange] = Answer(subject, exchange, rooms, part);
            budget.Use(part.Used);
        }
        return [.. subject.Work.People.Select(hand => new WhyPerson(problem.Crew[hand.Person].Id, problem.Skills[hand.Skill],
            [.. exchanges.Where(one => one.Hand == hand).Select(one => answers[one])]))];
    }

    /// <summary>
    /// Somebody in another's place, and a plan, of an exchange or a change of places, where nothing stops that.
    /// </summary>
    private sealed record Exchange(Hand Hand, Person Other, bool HasSkill, IReadOnlyList<Hold> Stopped, Schedule? Plan);

    private static Exchange Exchanged(Subject subject, Hand hand, Person other, Move move,
        PeopleHolds people, HashSet<Breach> before)
    {
        var (problem, work) = (subject.Problem, subject.Work);
        int[] then = [.. work.People.Where(one => one != hand).Select(one => one.Person), other.Index];
        if (people.Crew(then) is not { } crew)
            return new Exchange(hand, other, false, [Unskilled(subject, hand, other)], null);
        var holds = people.Of(other.Index, work.Night, work.From);
        if (holds.Count > 0) return new Exchange(hand, other, true, holds, Unbroken(Swap.Of(subject, hand.Person, other.Index)));
        var plan = move.To(work.Night, work.From, crew);
        Hold[] broken = [.. Checker.Check(problem, plan).Where(breach => !before.Contains(breach))
            .Select(breach => new Hold(breach.Rule, breach.About, breach.Sentence))];
        return new Exchange(hand, other, true, broken, broken.Length == 0 ? plan : null);

        Schedule? Unbroken(Schedule? swapped) =>
            swapped is not null && Checker.Check(problem, swapped).All(before.Contains) ? swapped : null;
    }

    private static Hold Unskilled(Subject subject, Hand hand, Person other)
    {
        var problem = subject.Problem;
        var level = subject.Way.Posts.Where(post => post.Skill == hand.Skill).Min(post => post.Level);
        var (skill, has) = (problem.Skills[hand.Skill], other.Levels[hand.Skill]);
        return new Hold("skill", Say.About(problem, subject.Work) with { Person = other.Id, Skill = skill },
            has == 0 ? $"{other.Name} does not have the skill “{skill}”."
                : $"{other.Name} has “{skill}” at level {has}, and level {Math.Max(level, has + 1)} is wanted.");
    }

    /// <summary>Whatever else is planned, a shift of theirs may lie over the work, and the work is not barred to them.</summary>
    private static bool HasRoom(Subject subject, Person other, CrewRooms rooms) =>
        rooms.Of(other.Index, subject.Work.Night).Any(room => room.From <= subject.Work.From && subject.Work.To <= room.To)
        && !other.Barred.Any(subject.Task.Traits.Contains);

    private static OtherPerson Answer(Subject subject, Exchange exchange, CrewRooms rooms, Budget budget)
    {
        var problem = subject.Problem;
        IReadOnlyList<Held> stopped = [.. exchange.Stopped.Select(hold => hold.Told(problem)).DistinctBy(held => held.Sentence)];
        if (!exchange.HasSkill || !HasRoom(subject, exchange.Other, rooms))
            return new OtherPerson(exchange.Other.Id, stopped, null, false, true);
        var nights = problem.Nights.Select(night => night.Index == subject.Work.Night).ToArray();
        var trial = BestUnderCondition.Of(problem, Neighbourhood.Roster(problem, subject.Plan, nights), model =>
        {
            var job = model.Jobs[subject.Stint.Index];
            model.Deny(job.People[exchange.Hand.Person]);
            model.Demand(job.People[exchange.Other.Index]);
        }, exchange.Plan is { } plan ? [plan] : [], budget);
        return new OtherPerson(exchange.Other.Id, stopped,
            trial.Plan is null ? null : Starts.Differences(problem, subject.Plan, trial.Plan),
            trial.Plan is not null && (exchange.Stopped.Count > 0 || !ReferenceEquals(trial.Plan, exchange.Plan)), trial.Proven);
    }
}
