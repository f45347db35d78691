using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class ExactModel
{
    /// <summary>The plan that a solution stands for.</summary>
    /// <param name="value">Value of an expression of the model in the solution.</param>
    public Schedule Read(Func<LinearExpr, long> value)
    {
        bool Holds(ILiteral literal) => Fixed(literal) ?? value(literal.AsExpr()) == 1;
        var work = new List<Work>();
        foreach (var job in Jobs)
        {
            if (job.Begun) work.Add(job.Fixed!);
            else if (Holds(job.Present)) work.Add(WorkOf(job, Holds, value));
        }
        var shifts = new List<Shift>();
        foreach (var duty in AllDuties)
        {
            if (duty.Fixed is { } known) shifts.Add(known);
            else if (Holds(duty.On))
            {
                var rest = Holds(duty.Break) ? value(duty.BreakFrom) : -1;
                var from = duty.Begun?.From ?? Minute(value(duty.From));
                shifts.Add(new Shift(duty.Person, duty.Night, from, Minute(value(duty.To)),
                    rest < 0 ? null : new Span(Minute(rest), Minute(rest + duty.BreakSize))));
            }
        }
        int?[] keyholders = [.. Problem.Nights.Select(night => KeyholderOf(night, shifts))];
        return new Schedule { Work = work, Shifts = shifts, Keyholders = keyholders };
    }

    private Work WorkOf(ExactJob job, Func<ILiteral, bool> holds, Func<LinearExpr, long> value)
    {
        var mode = Array.FindIndex(job.Modes, literal => holds(literal));
        var people = Problem.Crew.Where(person => holds(job.People[person.Index])).Select(person => person.Index).ToArray();
        // Whom the plan had there keep the skill that they were there for.
        if (job.Fixed is { } known && known.People.Select(hand => hand.Person).ToHashSet().SetEquals(people)) return known;
        var start = Minute(value(job.Start));
        var night = Array.FindIndex(job.Nights, literal => holds(literal));
        return new Work(night, job.Stint?.Index, mode, job.Zone, start, start + Minute(job.Sizes[mode]),
            CrewingOf(job.Ways[mode]).HandsOf(people));
    }

    /// <summary>The first in crew order whose shift spans all the others; failing that, from now on.</summary>
    private int? KeyholderOf(NightWindow night, List<Shift> all)
    {
        if (night.Closes <= Now) return Problem.Facts!.Published.Keyholders[night.Index];
        if (!Problem.Rules.KeyholderPresent) return null;
        var shifts = all.Where(shift => shift.Night == night.Index).ToArray();
        var left = shifts
            .Where(shift => shift.From >= Now || Problem.Facts!.EarliestEnds.ContainsKey((shift.Person, shift.Night)))
            .Select(shift => shift with { From = Math.Max(shift.From, Now) }).ToArray();
        return FirstOver(shifts) ?? FirstOver(left);
    }

    private int? FirstOver(Shift[] shifts) => shifts
        .Where(own => Problem.Crew[own.Person].Keyholder && shifts.All(other => own.Span.Contains(other.Span)))
        .OrderBy(own => own.Person).Select(own => (int?)own.Person).FirstOrDefault();

    /// <summary>Tells the solver of a plan to start from; parts of it that the model has no place for are left out.</summary>
    public void Hint(Schedule plan)
    {
        var (stints, shifts) = (plan.ByStint(Problem), plan.Shifts.ToLookup(shift => (shift.Person, shift.Night)));
        var placed = plan.Placed(Problem);
        for (var display = 0; display < placed.Length; display++) Hint(Placed[display], placed[display]);
        foreach (var job in Jobs)
            HintJob(job, job.Stint is { } stint ? stints[stint.Index]
                : plan.Work.FirstOrDefault(work => work.IsCleanDown && work.Zone == job.Zone && !IsNo(job.Nights[work.Night])));
        foreach (var duty in AllDuties)
            if (!duty.Settled) HintDuty(duty, shifts[(duty.Person, duty.Night)].FirstOrDefault());
    }

    private void HintJob(ExactJob job, Work? work)
    {
        foreach (var person in Problem.Crew)
            Hint(job.People[person.Index], work?.People.Any(hand => hand.Person == person.Index) == true);
        if (job.Fixed is not null) return;
        Hint(job.Present, work is not null);
        for (var mode = 0; mode < job.Ways.Count; mode++)
        {
            Hint(job.Modes[mode], work?.Mode == mode);
            for (var night = 0; night < Problem.Nights.Count; night++)
                Hint(job.Places[mode, night], work is not null && work.Mode == mode && work.Night == night);
        }
        for (var night = 0; night < Problem.Nights.Count; night++) Hint(job.Nights[night], work?.Night == night);
        if (work is null) return;
        Hint(job.Start, Down(work.From));
        if (job.End is IntVar end) Hint(end, Up(work.To));
        if (job.Size is IntVar size) Hint(size, Up(work.Span.Minutes));
    }

    private void HintDuty(ExactDuty duty, Shift? shift)
    {
        Hint(duty.On, shift is not null);
        Hint(duty.Break, shift?.Break is not null);
        var opens = Opens(duty.Night);
        if (duty.Begun is null) Hint(duty.FromStep, shift is null ? 0 : (Up(shift.From) - opens) / ShiftStep);
        Hint(duty.ToStep, shift is null ? 0 : (Up(shift.To) - opens) / ShiftStep);
        if (duty.LengthStep is { } length) Hint(length, shift is null ? 0 : Up(shift.Span.Minutes) / ShiftStep);
        if (shift?.Break is { } rest) Hint(duty.BreakStep, (Up(rest.From) - opens) / GridStep);
    }

    private void Hint(ILiteral literal, bool value)
    {
        var index = literal.GetIndex();
        if (Fixed(literal) is null && hinted.Add(index >= 0 ? index : -index - 1)) Cp.AddHint(literal, value);
    }

    private void Hint(IntVar variable, long value)
    {
        var domain = variable.Proto.Domain;
        if (domain[0] != domain[^1] && hinted.Add(variable.GetIndex())) Cp.AddHint(variable, value);
    }

    private readonly HashSet<int> hinted = [];

    private int Minute(long units) => (int)(units * Unit);
}
