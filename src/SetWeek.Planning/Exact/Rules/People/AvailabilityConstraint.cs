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
            var spans = AvailableSpans(model.Problem.Crew[shift.Person], shift.Night);
            if (shift.Begun is { } begun)
            {
                model.LimitEnd(shift, spans.Where(span => span.From <= begun.From && begun.From < span.To)
                    .Select(span => span.To).DefaultIfEmpty(begun.From).Max());
                continue;
            }
            var choices = new List<ILiteral>();
            foreach (var span in spans)
            {
                var chosen = spans.Count == 1 ? shift.Present : model.Cp.NewBoolVar("");
                model.AtLeast(shift.From, model.CeilingUnit(span.From), chosen);
                model.AtMost(shift.To, model.FloorUnit(span.To), chosen);
                choices.Add(chosen);
            }
            model.NotAll([shift.Present, .. choices.Select(chosen => chosen.Not())]);
        }
    }

    /// <summary>The person's available entries of a night, without their commitments.</summary>
    private static List<Span> AvailableSpans(Person person, int night)
    {
        var spans = person.Available[night].ToList();
        foreach (var commitment in person.Commitments)
            spans = [.. spans.SelectMany(span => commitment.Overlaps(span)
                ? new[] { span with { To = commitment.From }, span with { From = commitment.To } }.Where(part => part.Minutes > 0)
                : [span])];
        return [.. spans.Distinct()];
    }
}
