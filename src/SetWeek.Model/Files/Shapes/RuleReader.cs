using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>Reads the parameters of the rules and checks the range of each.</summary>
public static class RuleReader
{
    /// <summary>Reads the rules. A parameter that is left out is null, so that its rule does not apply.</summary>
    public static RuleSet Rules(JsonCursor cursor) => cursor.Object(Rules);

    /// <summary>Reads the parameters of the rules from the fields of an object.</summary>
    public static RuleSet Rules(JsonFields at) => new()
    {
        MinRestMinutes = Minutes(at, "minRestMinutes"),
        JoinMinutes = Minutes(at, "joinMinutes"),
        MinShiftMinutes = Minutes(at, "minShiftMinutes"),
        MaxShiftMinutes = Minutes(at, "maxShiftMinutes"),
        ShiftGridMinutes = at.OptionalInt("shiftGridMinutes", 1, 1440),
        BreakAfterMinutes = Minutes(at, "breakAfterMinutes"),
        BreakMinutes = Minutes(at, "breakMinutes", least: 1),
        BreakClearMinutes = Minutes(at, "breakClearMinutes"),
        BriefingMinutes = Minutes(at, "briefingMinutes"),
        Company = at.OptionalList("company", company => company.Object(of => new CompanyRequirement(
            of.Word("trait"), of.Int("people", 1, WeekLimits.People))), WeekLimits.Traits),
        MinPeople = at.OptionalInt("minPeople", 0, WeekLimits.People),
        KeyholderPresent = at.Flag("keyholderPresent"),
        OpeningMinutes = Minutes(at, "openingMinutes"),
        ClosingMinutes = Minutes(at, "closingMinutes"),
        OvertimeAfterMinutes = Minutes(at, "overtimeAfterMinutes"),
        OvertimePercent = at.OptionalInt("overtimePercent", 100, WeekLimits.Percent),
        LaunchBufferMinutes = Minutes(at, "launchBufferMinutes"),
        NoticeMinutes = at.OptionalInt("noticeMinutes", 0, WeekLimits.NoticeMinutes),
        ReservePercent = at.OptionalInt("reservePercent", 0, 100),
        Under18 = at.OptionalObject("under18", of => new Under18Rules
        {
            Until = of.OptionalClockTime("until"),
            Barred = of.OptionalList("barred", trait => trait.Word(), WeekLimits.Traits),
            MinRestMinutes = Minutes(of, "minRestMinutes"),
            MaxShiftMinutes = Minutes(of, "maxShiftMinutes"),
            BreakAfterMinutes = Minutes(of, "breakAfterMinutes"),
            BreakMinutes = Minutes(of, "breakMinutes", least: 1),
        }),
    };

    private static int? Minutes(JsonFields at, string name, int least = 0) => at.OptionalInt(name, least, WeekLimits.Minutes);
}
