using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>What follows from the rules taken together, said outright because the solver proves much more with it.</summary>
internal sealed partial class ExactModel
{
    public void AddImplied()
    {
        var sets = Jobs.Where(job => !job.Begun).SelectMany(job => job.Ways).Distinct()
            .SelectMany(way => CrewingOf(way).Needs.Select(need => need.Set)).Distinct().Order().ToArray();
        foreach (var person in Problem.Crew) AddLoad(person.Index);
        foreach (var duty in OpenDuties()) AddLoad(duty);
        foreach (var set in sets)
        {
            foreach (var night in Problem.Nights) AddEnergy(set, night.Index);
            if (sets.Length <= 64) Share(System.Numerics.BitOperations.PopCount(set), (_, way) => CrewingOf(way).NeedOf(set));
        }
        foreach (var night in Problem.Nights) AddPresence(night.Index);
    }

    /// <summary>Nobody works longer than they are on shift.</summary>
    private void AddLoad(int person)
    {
        var sum = LinearExpr.NewBuilder(Jobs.Count + Problem.Nights.Count);
        var any = false;
        foreach (var job in Open)
        {
            if (IsNo(job.People[person]) || IsNo(job.Present)) continue;
            sum.AddTerm(job.People[person], Least(job));
            any |= !IsYes(job.People[person]);
        }
        foreach (var duty in DutiesOf(person)) sum.AddTerm(duty.Worked, -1);
        if (any) Post(sum, long.MinValue, 0, []);
    }

    /// <summary>... night by night, where it is said who is where each night.</summary>
    private void AddLoad(ExactDuty duty)
    {
        var sum = LinearExpr.NewBuilder(Jobs.Count + 2);
        foreach (var job in Open)
        {
            if (There(job, duty) is not { } there) return;
            if (!IsNo(there)) sum.AddTerm(there, Least(job));
        }
        Post(sum.AddTerm(duty.Worked, -1), long.MinValue, 0, []);
    }

    private long Least(ExactJob job) =>
        job.Sizes.Where((_, mode) => !IsNo(job.Modes[mode])).DefaultIfEmpty(0).Min();

    /// <summary>Somebody is in the store as long as any work that needs people takes, and the keyholder longer.</summary>
    private void AddPresence(int night)
    {
        if (Problem.Facts is not null) return;
        var (rules, steps) = (Problem.Rules, LinearExpr.Term(LinearExpr.Sum(attended[night]), ShiftStep));
        var around = rules.KeyholderPresent ? Up(rules.OpeningMinutes ?? 0) + Up(rules.ClosingMinutes ?? 0) : 0;
        var lengths = LinearExpr.Sum(DutiesOn(night).Select(duty => duty.Length));
        foreach (var job in Open)
        {
            if (IsNo(job.Nights[night]) || job.Ways.Any(way => way.People == 0)) continue;
            var size = LinearExpr.Term(job.Nights[night], Least(job) + around);
            AtLeast(lengths - LinearExpr.Term(size, rules.MinPeople ?? 1), 0);
            if (attended[night].Count > 0) AtLeast(steps - size, 0);
            if (rules.KeyholderPresent) AtLeast(Leads[night].To - Leads[night].From - size, 0);
        }
        if (!rules.KeyholderPresent) return;
        AtLeast(lengths - LinearExpr.Term(Leads[night].To - Leads[night].From, rules.MinPeople ?? 1), 0);
    }

    /// <summary>In a week of one night nobody's work takes longer than until the last of it ends.</summary>
    public void AddLoads(LinearExpr last)
    {
        if (Problem.Nights.Count > 1 || Problem.Facts is not null || !OneAtATime) return;
        foreach (var person in Problem.Crew)
        {
            var sum = LinearExpr.NewBuilder(Jobs.Count + 1);
            foreach (var job in Jobs)
                if (!IsNo(job.People[person.Index])) sum.AddTerm(job.People[person.Index], job.Sizes.Min());
            Post(sum.AddTerm(last, -1), long.MinValue, 0, []);
        }
    }

    /// <summary>On each night the work that only a set of people can do takes no more of their time than there is.</summary>
    private void AddEnergy(ulong set, int night)
    {
        var sum = LinearExpr.NewBuilder(Jobs.Count + Problem.Crew.Count);
        var any = false;
        foreach (var job in Open)
            for (var mode = 0; mode < job.Ways.Count; mode++)
            {
                var need = CrewingOf(job.Ways[mode]).NeedOf(set);
                if (need == 0 || IsNo(job.Places[mode, night])) continue;
                sum.AddTerm(job.Places[mode, night], need * job.Sizes[mode]);
                any |= job.Fixed is null;
            }
        if (!any) return;
        foreach (var duty in DutiesOn(night))
            if ((set >> duty.Person & 1) == 1) sum.AddTerm(duty.Worked, -1);
        Post(sum, long.MinValue, 0, []);
    }
}
