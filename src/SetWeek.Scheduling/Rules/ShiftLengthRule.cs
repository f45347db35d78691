using Google.OrTools.Sat;
using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class ShiftLengthRule : IRule
{
    public string Id => "shift-length";

    public void Post(ExactModel model)
    {
        foreach (var duty in model.OpenDuties())
        {
            var person = model.Problem.Crew[duty.Person];
            var most = Math.Min(person.MaxShift, person.MaxMinutesPerNight);
            if (duty.Begun is { } begun)
            {
                var joined = person.Commitments
                    .Where(busy => busy.To <= begun.From && begun.From - busy.To <= person.Join).Sum(busy => busy.Minutes);
                if (person.MaxShift < Problem.Never) most = Math.Min(person.MaxShift - joined, person.MaxMinutesPerNight);
                if (most < Problem.Never) model.EndsBy(duty, begun.From + most);
                PostLeast(model, duty, begun, most);
                continue;
            }
            if (person.MinShift > 0) model.AtLeast(duty.Length - LinearExpr.Term(duty.On, model.Up(person.MinShift)), 0);
            if (most < Problem.Never) model.AtMost(duty.Length - LinearExpr.Term(duty.On, model.Down(most)), 0);
            if (person.MaxShift < Problem.Never) PostJoined(model, duty, person);
        }
        foreach (var person in model.Problem.Crew)
        {
            if (person.MaxNights >= model.Problem.Nights.Count) continue;
            var duties = model.DutiesOf(person.Index).ToArray();
            var begun = duties.Count(duty => duty.Begun is not null || (duty.Fixed is { } shift && shift.From < model.Now));
            model.AtMost(LinearExpr.Sum(duties.Select(duty => duty.On)), Math.Max(begun, person.MaxNights));
        }
    }

    /// <summary>A shift under way is long enough wherever it can be; where it cannot, it ends as soon as it can.</summary>
    private static void PostLeast(ExactModel model, ExactDuty duty, Shift begun, int most)
    {
        var (problem, person) = (model.Problem, model.Problem.Crew[duty.Person]);
        var longEnough = new Span(begun.From, problem.NextShiftSlot(duty.Night, begun.From + person.MinShift));
        var can = longEnough.Minutes <= most && person.Windows[duty.Night].Any(window => window.Contains(longEnough))
            && !person.Commitments.Any(busy => busy.Overlaps(longEnough));
        if (can) model.AtLeast(duty.To, model.Up(longEnough.To));
        else if (person.MinShift > 0) model.EndsBy(duty, -Problem.Never);
    }

    /// <summary>A commitment that joins counts towards the longest day.</summary>
    private static void PostJoined(ExactModel model, ExactDuty duty, Person person)
    {
        var day = LinearExpr.NewBuilder(4).Add(duty.Length);
        var any = false;
        foreach (var busy in person.Commitments)
        {
            var reach = model.Reach(duty.Night);
            if (person.Join < 0 || busy.To + person.Join < reach.From || busy.To > reach.To) continue;
            var joined = model.Cp.NewBoolVar("");
            model.Outside(duty.From, [(model.Up(busy.To), model.Down(busy.To + person.Join))], duty.On, joined.Not());
            day.AddTerm(joined, model.Up(busy.Minutes));
            any = true;
        }
        if (any) model.AtMost(day, model.Down(person.MaxShift), duty.On);
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
        {
            var (person, length, joined) = (problem.Crew[shift.Person], shift.Span.Minutes, Joined(problem, shift));
            if (length < person.MinShift)
                yield return Of(problem, shift,
                    $"{Say.Shift(problem, shift)} is {Say.Length(length)}, under the least of {Say.Length(person.MinShift)}.",
                    problem.Ended(shift) || (problem.EndsAsSoonAsItCan(shift) && !CouldBeLongEnough(problem, shift)));
            if (length + joined > person.MaxShift)
                yield return Of(problem, shift, joined == 0
                    ? $"{Say.Shift(problem, shift)} is {Say.Length(length)}, over the most of {Say.Length(person.MaxShift)}."
                    : $"{Say.Shift(problem, shift)} and the commitment just before it make a working day of "
                        + $"{Say.Length(length + joined)}, over the most of {Say.Length(person.MaxShift)}.",
                    problem.EndsAsSoonAsItCan(shift));
            if (length > person.MaxMinutesPerNight)
                yield return Of(problem, shift,
                    $"{Say.Shift(problem, shift)} is {Say.Length(length)}; {person.Name} works "
                        + $"{Say.Length(person.MaxMinutesPerNight)} a night at most.",
                    problem.EndsAsSoonAsItCan(shift));
        }
        foreach (var person in problem.Crew)
        {
            var shifts = schedule.Shifts.Where(shift => shift.Person == person.Index).ToArray();
            if (shifts.Length > person.MaxNights)
                yield return new Breach(Id, new About { Person = person.Id },
                    $"{person.Name} has {shifts.Length} shifts and works {person.MaxNights} nights at most.")
                    { OnlyFacts = shifts.All(shift => problem.Began(shift)) };
        }
    }

    private static int Joined(Problem problem, Shift shift)
    {
        var minutes = 0;
        foreach (var busy in problem.Crew[shift.Person].Commitments)
            if (busy.To <= shift.From && shift.From - busy.To <= problem.Crew[shift.Person].Join) minutes += busy.Minutes;
        return minutes;
    }

    /// <summary>Would a later end give the begun shift its least length and keep availability and the longest day?</summary>
    private static bool CouldBeLongEnough(Problem problem, Shift shift)
    {
        var person = problem.Crew[shift.Person];
        var longer = shift.Span with { To = problem.NextShiftSlot(shift.Night, shift.From + person.MinShift) };
        return person.Windows[shift.Night].Any(window => window.Contains(longer))
            && !person.Commitments.Any(busy => busy.Overlaps(longer))
            && longer.Minutes <= person.MaxMinutesPerNight && longer.Minutes + Joined(problem, shift) <= person.MaxShift;
    }

    private Breach Of(Problem problem, Shift shift, string sentence, bool onlyFacts) =>
        new(Id, Say.About(problem, shift), sentence) { OnlyFacts = onlyFacts };
}
