using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="BanRule"/> in the exact model.</summary>
internal static class BanConstraint
{
    public static void Post(CpWeekModel model)
    {
        foreach (var (activity, mode, night, starts) in model.AllStartDomains())
            foreach (var ban in model.Problem.Nights[night].Bans)
                if (activity.Task?.Traits.Contains(ban.Trait) == true)
                    starts.Remove(model.FloorUnit(ban.Span.From) - activity.Sizes[mode] + 1, model.CeilingUnit(ban.Span.To) - 1);
    }
}
