using System.Numerics;
using SetWeek.Model.Durations;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Reassigns people among those on shift, night by night, so that fewer stints are handed over and people change zones less
/// often. In a re-plan more work keeps its people. Times, modes and shifts stay, so the pay stays too. Simulated annealing: a
/// step replaces a person, exchanges two people, or exchanges the rest of the night of two people.
/// </summary>
internal sealed class StaffReassignment(
    CompactProblem compact, ShortestShift shortestShift, SplitMix64 random, ReassignmentParameters parameters)
{
    private readonly double shuffledWeight = WeightOf(GoalId.Shuffled, compact, parameters);
    private readonly double handoverWeight = WeightOf(GoalId.Handovers, compact, parameters);
    private readonly double moveWeight = WeightOf(GoalId.Moves, compact, parameters);
    private readonly List<int> activities = [], movable = [], changed = [];
    private readonly List<(int Before, int After)> pairs = [];
    private readonly List<(int Activity, int Requirement, byte Person)> undo = [];
    private readonly byte[] assigned = new byte[compact.Activities.Length * compact.MaxPeoplePerActivity];
    private readonly byte[] best = new byte[compact.Activities.Length * compact.MaxPeoplePerActivity];
    private readonly int[] zones = new int[compact.People];

    /// <summary>True if the problem has a goal that people alone can improve.</summary>
    public bool IsWorthwhile => shuffledWeight + handoverWeight + moveWeight > 0;

    /// <summary>Steps so far.</summary>
    public long Steps { get; private set; }

    /// <summary>Reassigns the people of every night that is not over.</summary>
    public void Improve(PartialSchedule schedule)
    {
        for (var night = 0; night < compact.Nights; night++)
            if (compact.MinuteAt(night, compact.SlotCounts[night]) > compact.Now) Improve(schedule, night);
    }

    private static double WeightOf(GoalId goal, CompactProblem compact, ReassignmentParameters parameters)
    {
        GoalId[] counted = [.. compact.Problem.Goals.Select(choice => choice.Goal)
            .Where(asked => asked is GoalId.Handovers or GoalId.Moves or GoalId.Shuffled)];
        var place = Array.IndexOf(counted, goal);
        return place < 0 ? 0 : Math.Pow(parameters.GoalRatio, counted.Length - 1 - place);
    }

    private void Improve(PartialSchedule schedule, int night)
    {
        Collect(schedule, night);
        if (movable.Count == 0) return;
        var requirements = movable.Sum(activity => (int)schedule.AssignedCount[activity]);
        var (steps, cost) = (parameters.StepsPerRequirement * requirements, CostOf(schedule));
        var lowest = cost;
        schedule.Assigned.CopyTo(best, 0);
        for (var step = 0; step < steps && lowest > 0; step++)
        {
            Steps++;
            undo.Clear();
            if (!TryChange(schedule, night)) continue;
            var temperature =
                GeometricCooling.At(parameters.InitialTemperature, parameters.FinalTemperature, step / (double)steps);
            var after = CostOf(schedule);
            if (after > cost - temperature * Math.Log(Math.Max(double.Epsilon, random.NextDouble())) || !Apply(schedule, night))
            {
                Undo();
                continue;
            }
            cost = after;
            if (cost >= lowest) continue;
            lowest = cost;
            assigned.CopyTo(best, 0);
        }
        best.CopyTo(assigned, 0);
        changed.Clear();
        changed.AddRange(movable);
        Place(schedule, night);
    }

    /// <summary>Lists the night's activities with people, those that can be changed, and pairs of consecutive stints.</summary>
    private void Collect(PartialSchedule schedule, int night)
    {
        activities.Clear();
        movable.Clear();
        pairs.Clear();
        for (var activity = 0; activity < compact.Activities.Length; activity++)
        {
            if (schedule.Night[activity] != night || schedule.AssignedCount[activity] == 0) continue;
            activities.Add(activity);
            if (!compact.Activities[activity].HasBegun) movable.Add(activity);
            if (activity + 1 < compact.Stints && compact.Activities[activity + 1].Task == compact.Activities[activity].Task
                && schedule.Night[activity + 1] == night) pairs.Add((activity, activity + 1));
        }
        activities.Sort((first, second) => schedule.StartMinute[first] != schedule.StartMinute[second]
            ? schedule.StartMinute[first] - schedule.StartMinute[second] : first - second);
        schedule.Assigned.CopyTo(assigned, 0);
    }

    /// <summary>Weighted sum of the goals in the night, for the people in <see cref="assigned"/>.</summary>
    private double CostOf(PartialSchedule schedule)
    {
        var (shuffled, handovers, moves) = (0, 0, 0);
        Array.Fill(zones, -1);
        foreach (var activity in activities)
        {
            var zone = compact.Activities[activity].Zone;
            foreach (var person in PeopleOf(schedule, activity))
            {
                if (zones[person] >= 0 && zones[person] != zone) moves++;
                zones[person] = zone;
            }
            if (shuffledWeight > 0 && activity < compact.Stints
                && compact.Published.IsShuffled(schedule, activity, SetOf(schedule, activity))) shuffled++;
        }
        foreach (var (before, after) in pairs)
            handovers += BitOperations.PopCount(SetOf(schedule, before) & ~SetOf(schedule, after));
        return shuffledWeight * shuffled + handoverWeight * handovers + moveWeight * moves;
    }

    private ReadOnlySpan<byte> PeopleOf(PartialSchedule schedule, int activity) =>
        assigned.AsSpan(activity * compact.MaxPeoplePerActivity, schedule.AssignedCount[activity]);

    private ulong SetOf(PartialSchedule schedule, int activity)
    {
        var set = 0UL;
        foreach (var person in PeopleOf(schedule, activity)) set |= 1UL << person;
        return set;
    }

    /// <summary>Changes <see cref="assigned"/> at random; false if the change is not possible.</summary>
    private bool TryChange(PartialSchedule schedule, int night)
    {
        var activity = movable[random.NextBelow(movable.Count)];
        var requirement = random.NextBelow(schedule.AssignedCount[activity]);
        var person = PeopleOf(schedule, activity)[requirement];
        if (random.NextBoolean(parameters.ExchangeRest))
            return TryExchangeRest(schedule, night, schedule.StartSlot[activity], person, random.NextBelow(compact.People));
        if (random.NextBoolean(parameters.Replace))
            return Set(schedule, night, activity, requirement, (byte)random.NextBelow(compact.People)) && IsFree(schedule);
        var other = movable[random.NextBelow(movable.Count)];
        var otherRequirement = random.NextBelow(schedule.AssignedCount[other]);
        return Set(schedule, night, activity, requirement, PeopleOf(schedule, other)[otherRequirement])
            && Set(schedule, night, other, otherRequirement, person) && IsFree(schedule);
    }

    /// <summary>Two people exchange their work that starts at a slot or later.</summary>
    private bool TryExchangeRest(PartialSchedule schedule, int night, int slot, int first, int second)
    {
        if (first == second || schedule.ShiftFrom[second * compact.Nights + night] < 0)
            return false;
        foreach (var activity in movable)
        {
            if (schedule.StartSlot[activity] < slot) continue;
            var people = PeopleOf(schedule, activity);
            for (var requirement = 0; requirement < people.Length; requirement++)
                if (people[requirement] == first || people[requirement] == second)
                    if (!Set(schedule, night, activity, requirement, (byte)(people[requirement] == first ? second : first)))
                    {
                        Undo();
                        return false;
                    }
        }
        return undo.Count > 0 && IsFree(schedule);
    }

    /// <summary>Assigns a person; false, with nothing changed, if the person cannot do it or is not on shift then.</summary>
    private bool Set(PartialSchedule schedule, int night, int activity, int requirement, byte person)
    {
        var at = activity * compact.MaxPeoplePerActivity + requirement;
        var shift = person * compact.Nights + night;
        var mode = compact.Activities[activity].Modes[schedule.Mode[activity]];
        if (assigned[at] == person || (mode.Requirements[requirement].Eligible & 1UL << person) == 0
            || schedule.ShiftFrom[shift] < 0 || schedule.ShiftFrom[shift] > schedule.StartSlot[activity]
            || schedule.ShiftTo[shift] < schedule.EndSlot[activity])
        {
            Undo();
            return false;
        }
        undo.Add((activity, requirement, assigned[at]));
        assigned[at] = person;
        return true;
    }

    /// <summary>True if nobody has two activities at once after the changes; otherwise the changes are undone.</summary>
    private bool IsFree(PartialSchedule schedule)
    {
        foreach (var (changedActivity, requirement, _) in undo)
        {
            var person = assigned[changedActivity * compact.MaxPeoplePerActivity + requirement];
            var times = 0;
            foreach (var activity in activities)
            {
                if (schedule.StartSlot[activity] >= schedule.EndSlot[changedActivity]) break;
                if (schedule.EndSlot[activity] <= schedule.StartSlot[changedActivity]) continue;
                foreach (var one in PeopleOf(schedule, activity))
                    if (one == person) times++;
            }
            if (times == 1) continue;
            Undo();
            return false;
        }
        return true;
    }

    private void Undo()
    {
        for (var index = undo.Count - 1; index >= 0; index--)
            assigned[undo[index].Activity * compact.MaxPeoplePerActivity + undo[index].Requirement] = undo[index].Person;
        undo.Clear();
    }

    /// <summary>Puts the changes into the schedule; false, with nothing changed there, if a shift would lose its break.</summary>
    private bool Apply(PartialSchedule schedule, int night)
    {
        changed.Clear();
        var people = 0UL;
        foreach (var (activity, requirement, person) in undo)
        {
            changed.Add(activity);
            people |= 1UL << person | 1UL << assigned[activity * compact.MaxPeoplePerActivity + requirement];
        }
        Place(schedule, night);
        for (var left = people; left != 0; left &= left - 1)
        {
            if (KeepsShift(schedule, night, BitOperations.TrailingZeroCount(left))) continue;
            Undo();
            Place(schedule, night);
            return false;
        }
        return true;
    }

    private bool KeepsShift(PartialSchedule schedule, int night, int person)
    {
        var (from, to) = (schedule.ShiftFrom[person * compact.Nights + night], schedule.ShiftTo[person * compact.Nights + night]);
        return shortestShift.TryFind(schedule, person, night, from, to, 0, 0, 0, 0, out var fitFrom, out var fitTo)
            && (fitFrom, fitTo) == (from, to);
    }

    /// <summary>Gives the changed activities the people in <see cref="assigned"/>.</summary>
    private void Place(PartialSchedule schedule, int night)
    {
        // All are removed first: two that overlap may have exchanged people.
        foreach (var activity in changed)
            if (schedule.Night[activity] >= 0) schedule.Remove(activity);
        foreach (var activity in changed)
            if (schedule.Night[activity] < 0)
                schedule.Insert(
                    activity, schedule.Mode[activity], night, schedule.StartSlot[activity], PeopleOf(schedule, activity));
    }
}
