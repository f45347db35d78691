using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.People;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="AvailabilityRule"/> in the exact model.</summary>
internal static class AvailabilityConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var shift in model.FreeShifts())
        {
            var free = AvailableSpans(model.Problem.Crew[shift.Person], shift.Night);
            if (shift.Begun is { } begun)
            {
                model.LimitEnd(shift, free.Where(span => span.From <= begun.From && begun.From < span.To)
                    .Select(span => span.To).DefaultIfEmpty(begun.From).Max());
                continue;
            }
            var picks = new List<ILiteral>();
            foreach (var span in free)
            {
                var pick = free.Count == 1 ? shift.Present : model.Cp.NewBoolVar("");
                model.AtLeast(shift.From, model.CeilingUnit(span.From), pick);
                model.AtMost(shift.To, model.FloorUnit(span.To), pick);
                picks.Add(pick);
            }
            model.NotAll([shift.Present, .. picks.Select(pick => pick.Not())]);
        }
    }

    /// <summary>The entries of a night, commitments taken out.</summary>
    private static List<Span> AvailableSpans(Person person, int night)
    {
        var free = person.Available[night].ToList();
        foreach (var busy in person.Commitments)
            free = [.. free.SelectMany(span => busy.Overlaps(span)
                ? new[] { span with { To = busy.From }, span with { From = busy.To } }.Where(part => part.Minutes > 0)
                : [span])];
        return [.. free.Distinct()];
    }
}
