using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Rules.Shifts;

/// <summary>The constraint of <see cref="YoungWorkerRule"/> in the exact model.</summary>
internal static class YoungWorkerConstraint
{
    public static void Post(ExactModel model)
    {
        foreach (var duty in model.OpenDuties())
            if (model.Problem.Crew[duty.Person].Until[duty.Night] is var until and < Problem.Never) model.EndsBy(duty, until);
        foreach (var person in model.Problem.Crew)
            foreach (var job in model.Open)
                if (job.Task is { } task && person.Barred.Any(task.Traits.Contains) && !model.IsYes(job.People[person.Index]))
                    model.Deny(job.People[person.Index]);
    }
}
