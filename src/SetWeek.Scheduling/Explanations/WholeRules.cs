namespace SetWeek.Scheduling.Explanations;

/// <summary>Each rule that a week file can do without, and the week without it.</summary>
internal static class WholeRules
{
    private static readonly About Everywhere = new();

    public static IReadOnlyList<Relief> OfWork { get; } =
    [
        new("drying", Everywhere, "Paint and glue do not dry in the time there is.",
            week => Tasks(week, task => task with { After = [.. task.After.Select(after => after with { DryMinutes = 0 })] })),
        new("same-night", Everywhere, "Work that must be secured in one night does not fit into any night together.",
            week => Tasks(week, task => task with { After = [.. task.After.Select(after => after with { SameNight = false })] })),
        new("zone-closed", Everywhere, "Zones stay closed after some work for so long that the rest does not fit.",
            week => Tasks(week, task => task with { ClosesZoneMinutes = 0 })),
    ];

    public static IReadOnlyList<Relief> OfNightsAndPeople { get; } =
    [
        new("clean-down", Everywhere, "The clean-downs of the zones worked in do not fit before the shop opens.",
            week => week with
            {
                Store = week.Store with { Zones = [.. week.Store.Zones.Select(zone => zone with { CleanDown = null })] },
            }),
        new("last", Everywhere, "The last task does not fit after everything else has ended.",
            week => Tasks(week, task => task with { Last = false })),
        new("keyholder", Everywhere, "Not every night that is needed has a keyholder for the whole of it.",
            week => week with { Rules = week.Rules with { KeyholderPresent = false } }),
        new("open-close", Everywhere, "Opening up and closing take the time that the work needs.",
            week => week with { Rules = week.Rules with { OpeningMinutes = null, ClosingMinutes = null } }),
        new("two-person", Everywhere, "Too few can be in the store together in the nights that are needed.",
            week => week with { Rules = week.Rules with { MinPeople = null } }),
        new("rest", Everywhere, "The rest that people must have between shifts and commitments leaves too few of them.",
            week => week with
            {
                Rules = week.Rules with { MinRestMinutes = null, Under18 = Young(week, young => young with { MinRestMinutes = null }) },
            }),
        new("break", Everywhere, "The work does not fit around the breaks.",
            week => week with
            {
                Rules = week.Rules with
                {
                    BreakAfterMinutes = null, Under18 = Young(week, young => young with { BreakAfterMinutes = null }),
                },
            }),
        new("shift-length", Everywhere, "Shifts may not be as long, as short or as many as the work needs.",
            week => week with
            {
                Rules = week.Rules with
                {
                    MinShiftMinutes = null, MaxShiftMinutes = null,
                    Under18 = Young(week, young => young with { MaxShiftMinutes = null }),
                },
                Crew = [.. week.Crew.Select(member => member with { MaxMinutesPerNight = null, MaxNights = null })],
            }),
        new("young-worker", Everywhere, "What young workers may do, and until when, leaves too few hands.",
            week => week with { Rules = week.Rules with { Under18 = null } }),
        new("after", Everywhere, "The order in which the tasks follow each other takes longer than there is time.",
            week => Tasks(week, task =>
                task with { After = [.. task.After.Where(after => after.SameNight || after.DryMinutes > 0)] })),
    ];

    private static Under18Rules? Young(Week week, Func<Under18Rules, Under18Rules> change) =>
        week.Rules.Under18 is { } young ? change(young) : null;

    private static Week Tasks(Week week, Func<SetTask, SetTask> change) => week with { Tasks = [.. week.Tasks.Select(change)] };
}
