using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="BanRule"/> in the exact model.</summary>
internal static class BanConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var (job, mode, night, moments) in model.OpenSlots())
            foreach (var ban in model.Problem.Nights[night].Bans)
                if (job.Task?.Traits.Contains(ban.Trait) == true)
                    moments.Remove(model.Down(ban.Span.From) - job.Sizes[mode] + 1, model.Up(ban.Span.To) - 1);
    }
}
