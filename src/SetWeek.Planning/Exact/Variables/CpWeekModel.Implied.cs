using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>What follows from the rules taken together, said outright because the solver proves much more with it.</summary>
internal sealed partial class CpWeekModel
{
    public void AddImplied()
    {
        var sets = Activities.Where(activity => !activity.Begun).SelectMany(activity => activity.Modes).Distinct()
            .SelectMany(mode => HallConditionsOf(mode).MinPeopleBySet.Select(need => need.Set)).Distinct().Order().ToArray();
        foreach (var person in Problem.Crew) AddLoad(person.Index);
        foreach (var shift in FreeShifts()) AddLoad(shift);
        foreach (var set in sets)
        {
            foreach (var night in Problem.Nights) AddEnergy(set, night.Index);
            if (sets.Length <= 64) AddCumulative(System.Numerics.BitOperations.PopCount(set), (_, mode) => HallConditionsOf(mode).MinPeopleFrom(set));
        }
        foreach (var night in Problem.Nights) AddPresence(night.Index);
    }

    /// <summary>Nobody works longer than they are on shift.</summary>
    private void AddLoad(int person)
    {
        var sum = LinearExpr.NewBuilder(Activities.Count + Problem.Nights.Count);
        var any = false;
        foreach (var activity in NotBegun)
        {
            if (IsFixedFalse(activity.HasPerson[person]) || IsFixedFalse(activity.Present)) continue;
            sum.AddTerm(activity.HasPerson[person], MinSize(activity));
            any |= !IsFixedTrue(activity.HasPerson[person]);
        }
        foreach (var shift in ShiftsOf(person)) sum.AddTerm(shift.Worked, -1);
        if (any) AddLinear(sum, long.MinValue, 0, []);
    }

    /// <summary>... night by night, where it is said who is where each night.</summary>
    private void AddLoad(CpShift shift)
    {
        var sum = LinearExpr.NewBuilder(Activities.Count + 2);
        foreach (var activity in NotBegun)
        {
            if (AssignedInNightOrNull(activity, shift) is not { } there) return;
            if (!IsFixedFalse(there)) sum.AddTerm(there, MinSize(activity));
        }
        AddLinear(sum.AddTerm(shift.Worked, -1), long.MinValue, 0, []);
    }

    private long MinSize(CpActivity activity) =>
        activity.Sizes.Where((_, mode) => !IsFixedFalse(activity.InMode[mode])).DefaultIfEmpty(0).Min();

    /// <summary>Somebody is in the store as long as any work that needs people takes, and the keyholder longer.</summary>
    private void AddPresence(int night)
    {
        if (Problem.Facts is not null) return;
        var (rules, steps) = (Problem.Rules, LinearExpr.Term(LinearExpr.Sum(attendedSteps[night]), ShiftStep));
        var around = rules.KeyholderPresent ? CeilingUnit(rules.OpeningMinutes ?? 0) + CeilingUnit(rules.ClosingMinutes ?? 0) : 0;
        var lengths = LinearExpr.Sum(ShiftsOn(night).Select(shift => shift.Length));
        foreach (var activity in NotBegun)
        {
            if (IsFixedFalse(activity.InNight[night]) || activity.Modes.Any(mode => mode.People == 0)) continue;
            var size = LinearExpr.Term(activity.InNight[night], MinSize(activity) + around);
            AtLeast(lengths - LinearExpr.Term(size, rules.MinPeople ?? 1), 0);
            if (attendedSteps[night].Count > 0) AtLeast(steps - size, 0);
            if (rules.KeyholderPresent) AtLeast(StoreAttendance[night].To - StoreAttendance[night].From - size, 0);
        }
        if (!rules.KeyholderPresent) return;
        AtLeast(lengths - LinearExpr.Term(StoreAttendance[night].To - StoreAttendance[night].From, rules.MinPeople ?? 1), 0);
    }

    /// <summary>In a week of one night nobody's work takes longer than until the last of it ends.</summary>
    public void AddMakespanLoads(LinearExpr makespan)
    {
        if (Problem.Nights.Count > 1 || Problem.Facts is not null || !NoOverlapPerPerson) return;
        foreach (var person in Problem.Crew)
        {
            var sum = LinearExpr.NewBuilder(Activities.Count + 1);
            foreach (var activity in Activities)
                if (!IsFixedFalse(activity.HasPerson[person.Index])) sum.AddTerm(activity.HasPerson[person.Index], activity.Sizes.Min());
            AddLinear(sum.AddTerm(makespan, -1), long.MinValue, 0, []);
        }
    }

    /// <summary>On each night the work that only a set of people can do takes no more of their time than there is.</summary>
    private void AddEnergy(ulong set, int night)
    {
        var sum = LinearExpr.NewBuilder(Activities.Count + Problem.Crew.Count);
        var any = false;
        foreach (var activity in NotBegun)
            for (var mode = 0; mode < activity.Modes.Count; mode++)
            {
                var need = HallConditionsOf(activity.Modes[mode]).MinPeopleFrom(set);
                if (need == 0 || IsFixedFalse(activity.InModeAndNight[mode, night])) continue;
                sum.AddTerm(activity.InModeAndNight[mode, night], need * activity.Sizes[mode]);
                any |= activity.FixedWork is null;
            }
        if (!any) return;
        foreach (var shift in ShiftsOn(night))
            if ((set >> shift.Person & 1) == 1) sum.AddTerm(shift.Worked, -1);
        AddLinear(sum, long.MinValue, 0, []);
    }
}
