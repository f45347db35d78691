using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// How early a night could open and how late it could close: to the middle of the day between it and its neighbour, so that
/// what one night is given is never taken from another, and for six hours at the most. The grids of work and shifts stay
/// where they are.
/// </summary>
internal static class WindowRoom
{
    private const int Most = 360;

    public static LocalDateTime Earliest(Week week, int night)
    {
        var opens = week.Nights[night].Opens;
        var room = night == 0 ? Most : Half(week.Nights[night - 1].Closes, opens);
        // A young worker's evening is that of the date on which the night opens: noon is not crossed.
        if (opens.Hour >= 12) room = Math.Min(room, (opens.Hour - 12) * 60 + opens.Minute);
        return opens.PlusMinutes(-Down(week, room));
    }

    public static LocalDateTime Latest(Week week, int night)
    {
        var closes = week.Nights[night].Closes;
        var room = night == week.Nights.Count - 1 ? Most : Half(closes, week.Nights[night + 1].Opens);
        return closes.PlusMinutes(Down(week, room));
    }

    /// <summary>Minutes from one step of a night's hours to the next: the grid of shifts, and of work.</summary>
    public static int Step(Week week)
    {
        var (grid, shifts) = (week.GridMinutes, week.Rules.ShiftGridMinutes ?? week.GridMinutes);
        var step = grid;
        while (step % shifts != 0) step += grid;
        return step;
    }

    private static int Half(LocalDateTime from, LocalDateTime to) =>
        (int)Math.Clamp(Period.Between(from, to, PeriodUnits.Minutes).Minutes / 2, 0, Most);

    private static int Down(Week week, int minutes) => minutes / Step(week) * Step(week);
}
