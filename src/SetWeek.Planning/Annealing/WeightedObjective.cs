using SetWeek.Model.Weeks;
using SetWeek.Model.Time;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// The goals' values of a draft, counted from its arrays (the goals themselves measure finished plans; tests hold both
/// together), and one number that weighs them in their order for a search that may also step back.
/// </summary>
internal sealed class WeightedObjective
{
    private const double PriorityFactor = 1e6;

    /// <summary>In hours of mean pay: a piece of published work at another time, or with other people.</summary>
    private const double ReshuffledWorkHours = 0.01;

    private readonly CompactProblem compact;
    private readonly Func<PartialSchedule, long>[] measures;
    private readonly double[] weights;
    private readonly long reserveAllowance;
    private readonly int[] activitiesInOrder;

    public WeightedObjective(CompactProblem compact)
    {
        this.compact = compact;
        var goals = compact.Problem.Goals;
        measures = [.. goals.Select(choice => MeasureOf(choice.Goal))];
        weights = Weights([.. goals.Select(choice => choice.Goal)]);
        // Of plans as good, the one that leaves more of what was published where it is: no goal, and never before one.
        if (compact.Problem.Facts is not null)
            (measures, weights) = ([.. measures, schedule => compact.Published.ReshuffledWork(schedule)],
                [.. weights, Math.Max(1, compact.MeanRate) * ReshuffledWorkHours]);
        activitiesInOrder = new int[compact.Activities.Length];
        var last = compact.Nights - 1;
        reserveAllowance = (compact.Problem.Rules.ReservePercent ?? 60) * compact.Problem.Crew.Sum(person =>
            (long)Math.Min(Minutes(person.Available[last], compact.Problem.Nights[last].Span), person.MaxMinutesPerNight));
    }

    /// <summary>Minutes of a night that some entry covers; where entries overlap, once.</summary>
    private static int Minutes(IReadOnlyList<Span> entries, Span night) =>
        Enumerable.Range(night.From, night.Minutes)
            .Count(minute => entries.Any(entry => entry.From <= minute && minute < entry.To));

    public int Count => measures.Length;

    public void Evaluate(PartialSchedule schedule, long[] values)
    {
        for (var goal = 0; goal < measures.Length; goal++) values[goal] = measures[goal](schedule);
    }

    /// <summary>
    /// The same and what they weigh together; null, as soon as it is known, where that is above a limit and the values are not
    /// better, in order, than some others.
    /// </summary>
    public double? EvaluateWithin(PartialSchedule schedule, long[] values, double limit, long[] bestValues)
    {
        var (sum, order) = (0.0, 0);
        for (var goal = 0; goal < measures.Length; goal++)
        {
            values[goal] = measures[goal](schedule);
            sum += weights[goal] * values[goal];
            if (order == 0) order = values[goal].CompareTo(bestValues[goal]);
            if (sum > limit && order >= 0) return null;
        }
        return sum;
    }

    /// <summary>What one of a goal weighs.</summary>
    public double WeightOf(int goal) => weights[goal];

    public double WeightedSum(ReadOnlySpan<long> values)
    {
        var sum = 0.0;
        for (var goal = 0; goal < values.Length; goal++) sum += weights[goal] * values[goal];
        return sum;
    }

    /// <summary>
    /// Goals that come before money weigh so much that money does not buy them; those after it hardly anything.
    /// </summary>
    private double[] Weights(GoalId[] goals)
    {
        var cost = Array.IndexOf(goals, "cost");
        var hour = Math.Max(1, compact.MeanRate);
        var place = cost < 0 ? 0 : cost;
        return [.. goals.Select((goal, at) =>
            UnitWeight(goal, hour) * (at < place ? PriorityFactor * Math.Pow(100, place - at - 1) : Math.Pow(0.05, at - place)))];
    }

    private double UnitWeight(GoalId goal, double hourlyPay) => goal switch
    {
        GoalId.Nights when compact.LateWork is not null => hourlyPay / 60,
        GoalId.Cost => 1,
        GoalId.Finish => hourlyPay / 600,
        GoalId.Reserve => hourlyPay / 60,
        GoalId.Uneven => hourlyPay / 600,
        GoalId.Moves => hourlyPay / 6,
        GoalId.LeftOut or GoalId.Nights or GoalId.Shifts or GoalId.Changes => hourlyPay,
    };

    private Func<PartialSchedule, long> MeasureOf(GoalId goal) => goal switch
    {
        GoalId.LeftOut => LeftOut,
        GoalId.Reserve => Reserve,
        GoalId.Cost => Cost,
        GoalId.Finish => Finish,
        GoalId.Nights => compact.LateWork is { } drain ? schedule => drain.TotalLateWork(compact, schedule) : LastNight,
        GoalId.Shifts => schedule => schedule.ShiftCount.Sum(),
        GoalId.Moves => Moves,
        GoalId.Uneven => Uneven,
        GoalId.Changes => Changes,
    };

    /// <summary>What the goal of that name counts, asked or not.</summary>
    public long LeftOut(PartialSchedule schedule)
    {
        var sum = 0L;
        for (var option = 0; option < compact.DisplayDecisions.Length; option++) sum += compact.DisplayDecisions[option].LeftOutValues[schedule.Choice[option]];
        return sum;
    }

    private long Reserve(PartialSchedule schedule)
    {
        var worked = 0L;
        for (var activity = 0; activity < schedule.Night.Length; activity++)
            if (schedule.Night[activity] == compact.Nights - 1) worked += (schedule.EndMinute[activity] - schedule.StartMinute[activity]) * schedule.AssignedCount[activity];
        return Math.Max(0, (worked * 100 - reserveAllowance + 99) / 100);
    }

    private long Cost(PartialSchedule schedule)
    {
        var (after, percent) = (compact.Problem.Rules.OvertimeAfterMinutes, compact.Problem.Rules.OvertimePercent ?? 100);
        var sum = 0L;
        for (var person = 0; person < compact.People; person++)
        {
            var (paid, already) = ((long)schedule.PaidMinutes[person], compact.Problem.Crew[person].MinutesAlready);
            var over = after is { } mark ? Math.Max(0, already + paid - Math.Max(mark, already)) : 0;
            sum += compact.Rates[person] * (paid * 100 + over * (percent - 100));
        }
        return (sum + 5999) / 6000;
    }

    private long Finish(PartialSchedule schedule)
    {
        var last = 0;
        for (var activity = 0; activity < schedule.Night.Length; activity++) if (schedule.Night[activity] >= 0) last = Math.Max(last, schedule.EndMinute[activity]);
        return last;
    }

    private long LastNight(PartialSchedule schedule)
    {
        for (var night = compact.Nights - 1; night >= 0; night--) if (schedule.Night.Contains(night)) return night + 1;
        return 0;
    }

    private long Moves(PartialSchedule schedule)
    {
        var count = 0;
        for (var activity = 0; activity < schedule.Night.Length; activity++)
            if (schedule.Night[activity] >= 0 && schedule.AssignedCount[activity] > 0) activitiesInOrder[count++] = activity;
        var order = activitiesInOrder.AsSpan(0, count);
        order.Sort((one, other) => schedule.StartMinute[one] != schedule.StartMinute[other] ? schedule.StartMinute[one] - schedule.StartMinute[other] : one - other);
        Span<int> night = stackalloc int[compact.People], zone = stackalloc int[compact.People];
        night.Fill(-1);
        var moves = 0L;
        foreach (var activity in order)
            foreach (var person in schedule.PeopleOf(activity))
            {
                if (night[person] == schedule.Night[activity] && zone[person] != compact.Activities[activity].Zone) moves++;
                (night[person], zone[person]) = (schedule.Night[activity], compact.Activities[activity].Zone);
            }
        return moves;
    }

    private long Uneven(PartialSchedule schedule)
    {
        var (most, least) = (long.MinValue, long.MaxValue);
        foreach (var person in compact.Problem.Crew)
        {
            if (person.Available.All(spans => spans.Count == 0)) continue;
            (most, least) = (Math.Max(most, schedule.PaidMinutes[person.Index]), Math.Min(least, schedule.PaidMinutes[person.Index]));
        }
        return most < least ? 0 : most - least;
    }

    /// <summary>The same of changes.</summary>
    public long Changes(PartialSchedule schedule)
    {
        if (compact.Problem.Facts is null) return 0;
        var sum = 0L;
        for (var at = 0; at < schedule.ShiftFrom.Length; at++) sum += compact.Published.ShiftChanges(schedule, at);
        for (var activity = 0; activity < compact.Stints; activity++)
            if (schedule.Night[activity] >= 0 && compact.Published.NightOf(activity) is >= 0 and var night && night != schedule.Night[activity]) sum++;
        return sum;
    }
}
