using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.People;

/// <summary>
/// The open-close rule, where the rules ask for a keyholder: the keyholder's shift starts at least the opening minutes before
/// the night's first work and ends at least the closing minutes after its last.
/// </summary>
internal sealed class OpenCloseRule : IRule
{
    public RuleId Id => RuleId.OpenClose;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (!problem.Rules.KeyholderPresent) yield break;
        foreach (var night in problem.Nights)
        {
            if (schedule.Keyholders[night.Index] is not { } named) continue;
            // The keyholder rule reports a keyholder without a shift.
            if (schedule.Shifts.FirstOrDefault(own => own.Night == night.Index && own.Person == named) is not { } shift) continue;
            var (name, works) = (problem.Crew[named].Name, schedule.Work.Where(work => work.Night == night.Index).ToArray());
            if (problem.Rules.OpeningMinutes is { } opening
                && works.Where(work => work.From - opening < shift.From).ToArray() is { Length: > 0 } early)
                yield return new Breach(Id, RulePhrases.Subject(problem, shift),
                    $"{name} opens at {RulePhrases.Time(problem, shift.From)}, less than {RulePhrases.Duration(opening)} before "
                        + $"the night's first work at {RulePhrases.Time(problem, early.Min(work => work.From))}.")
                    { IsUnavoidable = early.All(work => problem.HasBegun(work)) };
            if (problem.Rules.ClosingMinutes is { } closing
                && works.Where(work => work.To + closing > shift.To).ToArray() is { Length: > 0 } late)
                yield return new Breach(Id, RulePhrases.Subject(problem, shift),
                    $"{name} leaves at {RulePhrases.Time(problem, shift.To)}, less than {RulePhrases.Duration(closing)} after "
                        + $"the end of the night's last work at {RulePhrases.Time(problem, late.Max(work => work.To))}.")
                    { IsUnavoidable = late.All(work => problem.HasBegun(work) || IsLateCleanDown(problem, work))
                        && CannotExtend(problem, night, shift) };
        }
    }

    private static bool IsLateCleanDown(Problem problem, ScheduledWork work) =>
        work.IsCleanDown && problem.Facts?.LateCleanDowns.Contains((work.Night, work.Zone)) == true;

    /// <summary>True if the shift is over, or ends at the last slot of the night.</summary>
    private static bool CannotExtend(Problem problem, NightWindow night, ScheduledShift shift) =>
        problem.HasEnded(shift) || shift.To >= problem.LastShiftSlot(night.Index);
}
