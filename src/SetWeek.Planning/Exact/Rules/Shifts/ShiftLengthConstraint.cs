using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="ShiftLengthRule"/> in the exact model.</summary>
internal static class ShiftLengthConstraint
{
    public static void Post(ExactModel model)
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
}
