using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Scenarios;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Values of the goals for a partial schedule, counted from its arrays, and their weighted sum for annealing. The goals of the
/// model measure finished plans; a test keeps both equal.
/// </summary>
internal sealed class WeightedObjective
{
    private readonly CompactProblem compact;
    private readonly ObjectiveParameters parameters;
    private readonly BareZoneTrade bareTrade;
    private readonly Func<PartialSchedule, long>[] measures;
    private readonly double[] weights;
    private readonly int holdGoal = -1;
    private readonly double holdFactor = 1;
    private double logShortfall;
    private readonly long reserveAllowance;
    private readonly int[] activitiesInOrder;

    public WeightedObjective(CompactProblem compact, ObjectiveParameters parameters)
    {
        (this.compact, this.parameters) = (compact, parameters);
        bareTrade = new BareZoneTrade(compact.Problem);
        var goals = compact.Problem.Goals;
        Hold = HoldEstimate.For(compact);
        if (Hold is not null) holdGoal = compact.Problem.PositionOf(GoalId.Hold);
        var cost = compact.Problem.PositionOf(GoalId.Cost);
        if (cost >= 0 && holdGoal > cost) holdFactor = Math.Pow(parameters.LowerRatio, holdGoal - cost);
        measures = [.. goals.Select(choice => MeasureOf(choice.Goal))];
        weights = Weights([.. goals.Select(choice => choice.Goal)]);
        // Where it is not asked, it comes last: it decides only between plans that are equal in the goals.
        if (compact.Problem.Facts is not null && compact.Problem.PositionOf(GoalId.Shuffled) < 0)
            (measures, weights) = ([.. measures, MeasureOf(GoalId.Shuffled)],
                [.. weights, Math.Max(1, compact.MeanRate) * parameters.UnaskedShuffledHours]);
        activitiesInOrder = new int[compact.Activities.Length];
        var lastNight = compact.Problem.Nights[^1];
        reserveAllowance = (compact.Problem.Rules.ReservePercent ?? 60)
            * compact.Problem.Crew.Sum(person => (long)person.MinutesAvailable(lastNight));
    }

    /// <summary>Number of values: the goals and, in a re-plan that does not ask for it, the goal shuffled.</summary>
    public int Count => measures.Length;

    /// <summary>The estimate of the goal hold; null if the week does not need one, and its value counts as 0.</summary>
    public HoldEstimate? Hold { get; }

    /// <summary>Writes the value of each goal, in the order of the goals, and returns the weighted sum.</summary>
    public double Evaluate(PartialSchedule schedule, long[] values)
    {
        var sum = 0.0;
        for (var goal = 0; goal < measures.Length; goal++)
        {
            values[goal] = measures[goal](schedule);
            sum += weights[goal] * values[goal];
        }
        return HoldCounts ? sum + HoldPenalty : sum;
    }

    /// <summary>
    /// Evaluates and returns the weighted sum. It stops early and returns null if the sum exceeds the limit, unless the values
    /// are lexicographically better than <paramref name="bestValues"/>. The goal hold, which takes longest, comes last; until
    /// then it counts as 0.
    /// </summary>
    public double? EvaluateWithin(PartialSchedule schedule, long[] values, double limit, long[] bestValues)
    {
        var (sum, comparison) = (0.0, 0);
        for (var goal = 0; goal < measures.Length; goal++)
        {
            values[goal] = goal == holdGoal ? 0 : measures[goal](schedule);
            sum += weights[goal] * values[goal];
            if (comparison == 0) comparison = values[goal].CompareTo(bestValues[goal]);
            if (sum > limit && comparison >= 0) return null;
        }
        if (!HoldCounts) return sum;
        values[holdGoal] = measures[holdGoal](schedule);
        sum += HoldPenalty;
        return sum > limit && values.AsSpan().SequenceCompareTo(bestValues) >= 0 ? null : sum;
    }

    /// <summary>
    /// What the schedule measured last falls short of the chance asked for, in minor units. It is steep but finite: the weight of
    /// other goals before cost would let no step pass that loses a scenario.
    /// </summary>
    private double HoldPenalty => logShortfall * Math.Max(1, compact.MeanRate) * parameters.HoldHours * HoldWeight * holdFactor;

    /// <summary>
    /// True while a goal that ranks before the goal hold is improved: hold then counts as 0. Its estimate takes much of a step's
    /// time, and decides nothing before that goal is at its best.
    /// </summary>
    public bool IgnoresHold { get; set; }

    /// <summary>True if the goal hold is at stake and is not ignored.</summary>
    public bool HoldCounts => holdGoal >= 0 && !IgnoresHold;

    /// <summary>Does a goal rank before the goal hold, where that is at stake?</summary>
    public bool IsBeforeHold(int goal) => goal >= 0 && goal < holdGoal;

    /// <summary>
    /// Weight of the goal hold; 1 is its full weight. Annealing raises it while it cools, above 1 while no plan reaches the
    /// chance.
    /// </summary>
    public double HoldWeight { get; set; } = 1;

    /// <summary>True if these values fall short of the chance to hold that is asked for.</summary>
    public bool MissesChance(long[] values) => holdGoal >= 0 && values[holdGoal] > 0;

    private long HoldValue(PartialSchedule schedule)
    {
        if (Hold is null || IgnoresHold) return 0;
        (var value, logShortfall) = Hold.Of(schedule);
        return value;
    }

    /// <summary>Weight of one step of a goal: of its unit, or of a zone that is bare for a day.</summary>
    public double WeightOfStep(int goal) =>
        weights[goal] * (compact.Problem.Goals[goal].Goal == GoalId.Bare ? bareTrade.MeanTrade : 1);

    /// <summary>Weights by goal: far above cost before it, so that cost never outweighs them; far below cost after it.</summary>
    private double[] Weights(GoalId[] goals)
    {
        var cost = Array.IndexOf(goals, GoalId.Cost);
        var hour = Math.Max(1, compact.MeanRate);
        var place = cost < 0 ? 0 : cost;
        return [.. goals.Select((goal, at) => UnitWeight(goal, hour) * FactorOf(goal, at))];

        double FactorOf(GoalId goal, int at) =>
            goal == GoalId.Hold ? 0
            : at >= place ? goal is GoalId.Moves or GoalId.Handovers ? 1 : Math.Pow(parameters.LowerRatio, at - place)
            // The penalty of hold is finite, so a goal below it must not outweigh it.
            : holdGoal >= 0 && at > holdGoal ? parameters.FactorBelowHold
            : parameters.PriorityFactor * Math.Pow(parameters.PriorityRatio, place - at - 1);
    }

    /// <summary>Weight of one unit of a goal if all goals had the same priority, in minor units of money.</summary>
    private double UnitWeight(GoalId goal, double hourlyPay) => goal switch
    {
        GoalId.Nights when compact.LateWork is not null => hourlyPay / parameters.MinutesPerHour,
        GoalId.Cost => 1,
        GoalId.Finish => hourlyPay / parameters.FinishMinutesPerHour,
        GoalId.Reserve => hourlyPay / parameters.MinutesPerHour,
        GoalId.Uneven => hourlyPay / parameters.FinishMinutesPerHour,
        GoalId.Moves => hourlyPay * parameters.MoveHours,
        GoalId.Handovers => hourlyPay * parameters.HandoverHours,
        GoalId.Bare => hourlyPay / bareTrade.MeanTrade,
        GoalId.LeftOut or GoalId.Hold or GoalId.Nights or GoalId.Shifts or GoalId.Changes or GoalId.Shuffled =>
            hourlyPay,
    };

    private Func<PartialSchedule, long> MeasureOf(GoalId goal) => goal switch
    {
        GoalId.LeftOut => LeftOut,
        GoalId.Hold => HoldValue,
        GoalId.Reserve => Reserve,
        GoalId.Cost => Cost,
        GoalId.Finish => Finish,
        GoalId.Nights => compact.LateWork is { } lateWork ? schedule => lateWork.TotalLateWork(compact, schedule) : LastNight,
        GoalId.Shifts => schedule => schedule.ShiftCount.Sum(),
        GoalId.Bare => bareTrade.Of,
        GoalId.Handovers => Handovers,
        GoalId.Moves => Moves,
        GoalId.Uneven => Uneven,
        GoalId.Changes => Changes,
        GoalId.Shuffled => schedule => compact.Published.ShuffledStints(schedule),
    };

    /// <summary>Value of the goal leftOut, also for a week without that goal.</summary>
    public long LeftOut(PartialSchedule schedule)
    {
        var sum = 0L;
        for (var decision = 0; decision < compact.DisplayDecisions.Length; decision++)
            sum += compact.DisplayDecisions[decision].LeftOutValues[schedule.Choice[decision]];
        return sum;
    }

    private long Reserve(PartialSchedule schedule)
    {
        var worked = 0L;
        for (var activity = 0; activity < schedule.Night.Length; activity++)
            if (schedule.Night[activity] == compact.Nights - 1)
                worked += (schedule.EndMinute[activity] - schedule.StartMinute[activity]) * schedule.AssignedCount[activity];
        return Math.Max(0, (worked * 100 - reserveAllowance + 99) / 100);
    }

    private long Cost(PartialSchedule schedule)
    {
        var (after, percent) = (compact.Problem.Rules.OvertimeAfterMinutes, compact.Problem.Rules.OvertimePercent ?? 100);
        var sum = 0L;
        for (var person = 0; person < compact.People; person++)
        {
            var (paid, already) = ((long)schedule.PaidMinutes[person], compact.Problem.Crew[person].MinutesAlready);
            var overtime = after is { } threshold ? Math.Max(0, already + paid - Math.Max(threshold, already)) : 0;
            sum += compact.Rates[person] * (paid * 100 + overtime * (percent - 100));
        }
        // From percent of a minute at an hourly rate to minor units of money, rounded up.
        return (sum + 5999) / 6000;
    }

    private long Finish(PartialSchedule schedule)
    {
        var last = 0;
        for (var activity = 0; activity < schedule.Night.Length; activity++)
            if (schedule.Night[activity] >= 0) last = Math.Max(last, schedule.EndMinute[activity]);
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
        order.Sort((first, second) => schedule.StartMinute[first] != schedule.StartMinute[second]
            ? schedule.StartMinute[first] - schedule.StartMinute[second] : first - second);
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

    private long Handovers(PartialSchedule schedule)
    {
        var handovers = 0L;
        foreach (var stint in compact.Problem.Stints)
            if (stint.Number > 1 && schedule.Night[stint.Index] is >= 0 and var night && schedule.Night[stint.Index - 1] == night)
                foreach (var person in schedule.PeopleOf(stint.Index - 1))
                    if (!schedule.PeopleOf(stint.Index).Contains(person)) handovers++;
        return handovers;
    }

    private long Uneven(PartialSchedule schedule)
    {
        var (most, least) = (long.MinValue, long.MaxValue);
        foreach (var person in compact.Problem.Crew)
        {
            if (person.Available.All(spans => spans.Count == 0)) continue;
            var minutes = schedule.PaidMinutes[person.Index];
            (most, least) = (Math.Max(most, minutes), Math.Min(least, minutes));
        }
        return most < least ? 0 : most - least;
    }

    /// <summary>Value of the goal changes, also for a week without that goal.</summary>
    public long Changes(PartialSchedule schedule)
    {
        if (compact.Problem.Facts is null) return 0;
        var sum = 0L;
        for (var at = 0; at < schedule.ShiftFrom.Length; at++) sum += compact.Published.ShiftChanges(schedule, at);
        for (var activity = 0; activity < compact.Stints; activity++)
            if (schedule.Night[activity] >= 0 && compact.Published.NightOf(activity) is >= 0 and var night
                && night != schedule.Night[activity])
                sum++;
        return sum;
    }
}
