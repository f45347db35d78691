using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="BreakRule"/> in the exact model.</summary>
internal static class BreakConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var duty in model.OpenDuties())
        {
            var person = model.Problem.Crew[duty.Person];
            if (duty.Begun?.Break is { } taken && taken.From < model.Now)
            {
                if (person.BreakAfter < Problem.Never) model.EndsBy(duty, taken.To + person.BreakAfter);
                continue;
            }
            if (person.BreakAfter == Problem.Never)
            {
                model.Deny(duty.Break);
                continue;
            }
            var most = model.Down(person.BreakAfter);
            model.AtLeast(duty.Length - LinearExpr.Term(duty.Break, most + 1), 0);
            model.AtMost(duty.To - duty.BreakFrom, most + duty.BreakSize, duty.Break);
            if (duty.Begun is null || EarliestBreak(model, duty) - duty.Begun.From <= person.BreakAfter)
                model.AtMost(duty.BreakFrom - duty.From, most, duty.Break);
            if (duty.Begun is null) model.AtMost(duty.Length, most, duty.Break.Not());
            else
            {
                // Without a break only where the shift ends as soon as it can.
                var latest = Math.Max(model.Up(duty.Begun.From) + most, model.Up(model.EarliestEnd(duty)));
                model.AtMost(duty.To, latest, duty.Break.Not());
            }
        }
    }

    private static int EarliestBreak(ExactModel model, ExactDuty duty) => model.Problem.NextSlot(duty.Night, model.Jobs
        .Where(job => job.Begun && job.Fixed!.Night == duty.Night && model.IsYes(job.People[duty.Person]))
        .Select(job => job.Fixed!.To).Append(model.Now).Max());
}
