using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.People;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="AvailabilityRule"/> in the exact model.</summary>
internal static class AvailabilityConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var duty in model.OpenDuties())
        {
            var free = Free(model.Problem.Crew[duty.Person], duty.Night);
            if (duty.Begun is { } begun)
            {
                model.EndsBy(duty, free.Where(span => span.From <= begun.From && begun.From < span.To)
                    .Select(span => span.To).DefaultIfEmpty(begun.From).Max());
                continue;
            }
            var picks = new List<ILiteral>();
            foreach (var span in free)
            {
                var pick = free.Count == 1 ? duty.On : model.Cp.NewBoolVar("");
                model.AtLeast(duty.From, model.Up(span.From), pick);
                model.AtMost(duty.To, model.Down(span.To), pick);
                picks.Add(pick);
            }
            model.Never([duty.On, .. picks.Select(pick => pick.Not())]);
        }
    }

    /// <summary>The entries of a night, commitments taken out.</summary>
    private static List<Span> Free(Person person, int night)
    {
        var free = person.Available[night].ToList();
        foreach (var busy in person.Commitments)
            free = [.. free.SelectMany(span => busy.Overlaps(span)
                ? new[] { span with { To = busy.From }, span with { From = busy.To } }.Where(part => part.Minutes > 0)
                : [span])];
        return [.. free.Distinct()];
    }
}
