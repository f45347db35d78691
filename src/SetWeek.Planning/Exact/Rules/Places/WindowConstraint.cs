using SetWeek.Model.Rules.Places;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Places;

/// <summary>The constraint of <see cref="WindowRule"/> in the exact model.</summary>
internal static class WindowConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var (job, mode, night, moments) in model.OpenSlots())
            moments.AtMost(model.Down(model.Problem.Nights[night].Closes) - job.Sizes[mode]);
        foreach (var duty in model.OpenDuties()) model.EndsBy(duty, model.Problem.Nights[duty.Night].Closes);
    }
}
