using SetWeek.Model.Rules.People;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.People;

/// <summary>The constraint of <see cref="OpenCloseRule"/> in the exact model.</summary>
internal static class OpenCloseConstraint
{
    public static void Post(ExactModel model)
    {
        if (!model.Problem.Rules.KeyholderPresent) return;
        var (opening, closing) = (model.Problem.Rules.OpeningMinutes, model.Problem.Rules.ClosingMinutes);
        foreach (var lead in model.Leads)
        {
            var last = model.Problem.LastShiftSlot(lead.Night);
            foreach (var job in model.Jobs)
            {
                var then = job.Nights[lead.Night];
                if (opening is { } before && !job.Begun)
                    model.AtLeast(job.Start - lead.From, model.Up(before), then, lead.Attended);
                if (closing is not { } after) continue;
                // After begun work, and a clean-down that it makes late, the keyholder stays as long as the night has room.
                if (job.Begun) model.AtLeast(lead.To, model.Up(Math.Min(job.Fixed!.To + after, last)), then, lead.Attended);
                else if (job.IsCleanDown && model.Problem.Facts?.LateCleanDowns.Contains((lead.Night, job.Zone)) == true)
                    model.AtLeast(lead.To, model.Up(last), then, lead.Attended);
                else model.AtLeast(lead.To - job.End, model.Up(after), then, lead.Attended);
            }
        }
    }
}
