using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.NewWeeks;

/// <summary>Combines rule sets. Where two give a number, the one that protects people and the launch more counts.</summary>
public static class StricterRules
{
    public static RuleSet Of(IEnumerable<RuleSet> sets) => sets.Aggregate(new RuleSet(), Of);

    private static RuleSet Of(RuleSet one, RuleSet other) => new()
    {
        MinRestMinutes = Larger(one.MinRestMinutes, other.MinRestMinutes),
        JoinMinutes = Larger(one.JoinMinutes, other.JoinMinutes),
        MinShiftMinutes = Larger(one.MinShiftMinutes, other.MinShiftMinutes),
        MaxShiftMinutes = Smaller(one.MaxShiftMinutes, other.MaxShiftMinutes),
        ShiftGridMinutes = Larger(one.ShiftGridMinutes, other.ShiftGridMinutes),
        BreakAfterMinutes = Smaller(one.BreakAfterMinutes, other.BreakAfterMinutes),
        BreakMinutes = Larger(one.BreakMinutes, other.BreakMinutes),
        BreakClearMinutes = Larger(one.BreakClearMinutes, other.BreakClearMinutes),
        BriefingMinutes = Larger(one.BriefingMinutes, other.BriefingMinutes),
        Company = [.. one.Company.Concat(other.Company).GroupBy(company => company.Trait)
            .Select(same => new CompanyRequirement(same.Key, same.Max(company => company.People)))],
        MinPeople = Larger(one.MinPeople, other.MinPeople),
        KeyholderPresent = one.KeyholderPresent || other.KeyholderPresent,
        OpeningMinutes = Larger(one.OpeningMinutes, other.OpeningMinutes),
        ClosingMinutes = Larger(one.ClosingMinutes, other.ClosingMinutes),
        OvertimeAfterMinutes = Smaller(one.OvertimeAfterMinutes, other.OvertimeAfterMinutes),
        OvertimePercent = Larger(one.OvertimePercent, other.OvertimePercent),
        LaunchBufferMinutes = Larger(one.LaunchBufferMinutes, other.LaunchBufferMinutes),
        NoticeMinutes = Larger(one.NoticeMinutes, other.NoticeMinutes),
        ReservePercent = Smaller(one.ReservePercent, other.ReservePercent),
        Under18 = one.Under18 is { } young && other.Under18 is { } others ? Of(young, others) : one.Under18 ?? other.Under18,
    };

    private static Under18Rules Of(Under18Rules one, Under18Rules other) => new()
    {
        Until = one.Until is { } until && other.Until is { } others ? LocalTime.Min(until, others) : one.Until ?? other.Until,
        Barred = [.. one.Barred.Union(other.Barred)],
        MinRestMinutes = Larger(one.MinRestMinutes, other.MinRestMinutes),
        MaxShiftMinutes = Smaller(one.MaxShiftMinutes, other.MaxShiftMinutes),
        BreakAfterMinutes = Smaller(one.BreakAfterMinutes, other.BreakAfterMinutes),
        BreakMinutes = Larger(one.BreakMinutes, other.BreakMinutes),
    };

    private static int? Larger(int? one, int? other) => one is null || other > one ? other ?? one : one;

    private static int? Smaller(int? one, int? other) => one is null || other < one ? other ?? one : one;
}
