using System.Numerics;
using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>Implied constraints: they follow from all rules together and strengthen the solver's bounds.</summary>
internal sealed partial class CpWeekModel
{
    /// <summary>Sets of people above which no cumulative constraint for each set is posted: there would be too many.</summary>
    private const int MaxSetsForCumulatives = 64;

    /// <summary>Posts the implied constraints. Valid only together with all rules.</summary>
    public void AddImplied()
    {
        var sets = Activities.Where(activity => !activity.Begun).SelectMany(activity => activity.Modes).Distinct()
            .SelectMany(mode => HallConditionsOf(mode).MinPeopleBySet.Select(need => need.Set)).Distinct().Order().ToArray();
        foreach (var person in Problem.Crew) AddLoad(person.Index);
        foreach (var shift in FreeShifts()) AddLoad(shift);
        foreach (var set in sets)
        {
            foreach (var night in Problem.Nights) AddEnergy(set, night.Index);
            if (sets.Length <= MaxSetsForCumulatives)
                AddCumulative(BitOperations.PopCount(set), (_, mode) => HallConditionsOf(mode).MinPeopleFrom(set));
        }
        foreach (var night in Problem.Nights) AddPresence(night.Index);
    }

    /// <summary>A person's work in the week takes at most the length of their shifts without breaks.</summary>
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

    /// <summary>
    /// A person's work in one night takes at most the length of their shift without its break. Posts nothing where the literals
    /// for person and night would be too many.
    /// </summary>
    private void AddLoad(CpShift shift)
    {
        var sum = LinearExpr.NewBuilder(Activities.Count + 2);
        foreach (var activity in NotBegun)
        {
            if (AssignedInNightOrNull(activity, shift) is not { } assigned) return;
            if (!IsFixedFalse(assigned)) sum.AddTerm(assigned, MinSize(activity));
        }
        AddLinear(sum.AddTerm(shift.Worked, -1), long.MinValue, 0, []);
    }

    private long MinSize(CpActivity activity) =>
        activity.Sizes.Where((_, mode) => !IsFixedFalse(activity.InMode[mode])).DefaultIfEmpty(0).Min();

    /// <summary>
    /// Attendance of a night, from each activity that needs people in every mode. The store is attended for at least as long as
    /// the activity takes, by the least number of people. A required keyholder adds the time for opening and closing.
    /// </summary>
    private void AddPresence(int night)
    {
        if (Problem.Facts is not null) return;
        var (rules, attended) = (Problem.Rules, LinearExpr.Term(LinearExpr.Sum(attendedSteps[night]), ShiftStep));
        var openingAndClosing = rules.KeyholderPresent
            ? CeilingUnit(rules.OpeningMinutes ?? 0) + CeilingUnit(rules.ClosingMinutes ?? 0) : 0;
        var lengths = LinearExpr.Sum(ShiftsOn(night).Select(shift => shift.Length));
        foreach (var activity in NotBegun)
        {
            if (IsFixedFalse(activity.InNight[night]) || activity.Modes.Any(mode => mode.People == 0)) continue;
            var size = LinearExpr.Term(activity.InNight[night], MinSize(activity) + openingAndClosing);
            AtLeast(lengths - LinearExpr.Term(size, rules.MinPeople ?? 1), 0);
            if (attendedSteps[night].Count > 0) AtLeast(attended - size, 0);
            if (rules.KeyholderPresent) AtLeast(StoreAttendance[night].To - StoreAttendance[night].From - size, 0);
        }
        if (!rules.KeyholderPresent) return;
        AtLeast(lengths - LinearExpr.Term(StoreAttendance[night].To - StoreAttendance[night].From, rules.MinPeople ?? 1), 0);
    }

    /// <summary>In a week of one night, a person's work takes at most the makespan.</summary>
    public void AddMakespanLoads(LinearExpr makespan)
    {
        if (Problem.Nights.Count > 1 || Problem.Facts is not null || !NoOverlapPerPerson) return;
        foreach (var person in Problem.Crew)
        {
            var sum = LinearExpr.NewBuilder(Activities.Count + 1);
            foreach (var activity in Activities)
                if (!IsFixedFalse(activity.HasPerson[person.Index]))
                    sum.AddTerm(activity.HasPerson[person.Index], activity.Sizes.Min());
            AddLinear(sum.AddTerm(makespan, -1), long.MinValue, 0, []);
        }
    }

    /// <summary>
    /// Energy of a set of people in a night: the work that only they can do takes at most the length of their shifts without
    /// breaks.
    /// </summary>
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
