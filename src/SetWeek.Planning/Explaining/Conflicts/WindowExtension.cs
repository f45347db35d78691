using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// How early a night could open and how late it could close: to the middle of the day between it and its neighbour, so that
/// what one night is given is never taken from another, and for six hours at the most. The grids of work and shifts stay
/// where they are.
/// </summary>
internal static class WindowExtension
{
    private const int MaxMinutes = 360;

    public static LocalDateTime EarliestOpening(Week week, int night)
    {
        var opens = week.Nights[night].Opens;
        var room = night == 0 ? MaxMinutes : HalfGap(week.Nights[night - 1].Closes, opens);
        // A young worker's evening is that of the date on which the night opens: noon is not crossed.
        if (opens.Hour >= 12) room = Math.Min(room, (opens.Hour - 12) * 60 + opens.Minute);
        return opens.PlusMinutes(-RoundDown(week, room));
    }

    public static LocalDateTime LatestClosing(Week week, int night)
    {
        var closes = week.Nights[night].Closes;
        var room = night == week.Nights.Count - 1 ? MaxMinutes : HalfGap(closes, week.Nights[night + 1].Opens);
        return closes.PlusMinutes(RoundDown(week, room));
    }

    /// <summary>Minutes from one step of a night's hours to the next: the grid of shifts, and of work.</summary>
    public static int Step(Week week)
    {
        var (grid, shifts) = (week.GridMinutes, week.Rules.ShiftGridMinutes ?? week.GridMinutes);
        var step = grid;
        while (step % shifts != 0) step += grid;
        return step;
    }

    private static int HalfGap(LocalDateTime from, LocalDateTime to) =>
        (int)Math.Clamp(Period.Between(from, to, PeriodUnits.Minutes).Minutes / 2, 0, MaxMinutes);

    private static int RoundDown(Week week, int minutes) => minutes / Step(week) * Step(week);
}
