using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// How early a night could open and how late it could close. An extension ends halfway to the neighbouring night, so extended
/// nights never overlap, and it is six hours at most. Times stay on the grids of work and shifts.
/// </summary>
internal static class WindowExtension
{
    private const int MaxMinutes = 360;

    public static LocalDateTime EarliestOpening(Week week, int night)
    {
        var opens = week.Nights[night].Opens;
        var extension = night == 0 ? MaxMinutes : HalfGap(week.Nights[night - 1].Closes, opens);
        // The latest end for people under 18 is in the evening of the date on which the night opens. Opening before noon would
        // move it.
        if (opens.Hour >= 12) extension = Math.Min(extension, (opens.Hour - 12) * 60 + opens.Minute);
        return opens.PlusMinutes(-RoundDown(week, extension));
    }

    public static LocalDateTime LatestClosing(Week week, int night)
    {
        var closes = week.Nights[night].Closes;
        var extension = night == week.Nights.Count - 1 ? MaxMinutes : HalfGap(closes, week.Nights[night + 1].Opens);
        return closes.PlusMinutes(RoundDown(week, extension));
    }

    /// <summary>The step of a night's hours: the least common multiple of the grids of work and shifts, in minutes.</summary>
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
