using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Rules.Shifts;

/// <summary>
/// Checks the rules with numbers from working-time law and over clock changes. Each test names its source. Not legal advice.
/// </summary>
public sealed class WorkingTimeTests
{
    private static TinyWeek Nights(string timeZone, params string[] hours) => TinyWeek.New.With(week => week with
    {
        GridMinutes = 1,
        Launch = TinyWeek.Local("2028-01-01T09:00"),
        Store = week.Store with { TimeZone = timeZone },
        Nights = [.. hours.Index().Select(night => new Night($"n{night.Index}",
            TinyWeek.Local(night.Item.Split('/')[0]), TinyWeek.Local(night.Item.Split('/')[1])))],
        Crew = [.. week.Crew.Select(member => member with { Available = [.. hours.Index()
            .Select(night => new Availability($"n{night.Index}"))] })],
    });

    /// <summary>Directive 2003/88/EC, article 3: 11 consecutive hours of rest in each 24.</summary>
    [Theory]
    [InlineData("16:00", false)] // 06:00 to 16:00: 10 h
    [InlineData("17:00", true)] // 11 h
    public void Eleven_hours_of_daily_rest(string returns, bool allowed) => Assert.Equal(allowed ? [] : ["rest"],
        Nights("Europe/Paris", "2026-09-07T22:00/2026-09-08T06:00", "2026-09-08T16:00/2026-09-08T23:00")
            .Rules(new() { MinRestMinutes = 11 * 60 }).Plan
            .Shift("n0", "ana", "22:00", "06:00").Shift("n1", "ana", returns, "23:00").BrokenRules);

    /// <summary>UK Working Time Regulations 1998, regulation 10(2): 12 hours for young workers.</summary>
    [Theory]
    [InlineData("08:30", false)] // 21:00 to 08:30: 11.5 h
    [InlineData("09:00", true)]
    public void Twelve_hours_of_daily_rest_for_the_under_18s(string returns, bool allowed) =>
        Assert.Equal(allowed ? [] : ["rest"],
        Nights("Europe/London", "2026-09-07T17:00/2026-09-07T21:00", "2026-09-08T08:30/2026-09-08T13:00")
            .Rules(new() { MinRestMinutes = 11 * 60, Under18 = new() { MinRestMinutes = 12 * 60 } })
            .Person("ana", ana => ana with { Under18 = true }).Plan
            .Shift("n0", "ana", "17:00", "21:00").Shift("n1", "ana", returns, "13:00").BrokenRules);

    /// <summary>UK Working Time Regulations 1998, regulation 12(1) and (3): 20 minutes in a day longer than 6 hours.</summary>
    [Theory]
    [InlineData("04:00", null, null, true)] // 6 h 00: none owed
    [InlineData("04:01", null, null, false)] // 6 h 01
    [InlineData("04:01", "01:00", "01:20", true)]
    [InlineData("04:01", "01:00", "01:19", false)]
    public void Twenty_minutes_in_more_than_six_hours(string to, string? breakFrom, string? breakTo, bool allowed) =>
        Assert.Equal(allowed ? [] : ["break"],
        Nights("Europe/London", "2026-09-07T22:00/2026-09-08T06:00").Rules(new() { BreakAfterMinutes = 360, BreakMinutes = 20 })
            .Plan
            .Shift("n0", "ana", "22:00", to, breakFrom, breakTo).BrokenRules);

    /// <summary>
    /// UK Working Time Regulations 1998, regulation 12(4): 30 minutes in more than 4.5 hours for young workers.
    /// </summary>
    [Theory]
    [InlineData("21:30", null, null, true)] // 4 h 30: none owed
    [InlineData("21:31", null, null, false)] // 4 h 31
    [InlineData("21:31", "19:00", "19:30", true)]
    [InlineData("21:31", "19:00", "19:20", false)] // an adult's break
    public void Thirty_minutes_in_more_than_four_and_a_half_hours_for_the_under_18s(string to, string? breakFrom, string? breakTo,
        bool allowed) =>
        Assert.Equal(allowed ? [] : ["break"], Nights("Europe/London", "2026-09-07T17:00/2026-09-07T23:00")
            .Rules(new() { BreakAfterMinutes = 360, BreakMinutes = 20, Under18 = new() { BreakAfterMinutes = 270,
                BreakMinutes = 30 } })
            .Person("ana", ana => ana with { Under18 = true }).Plan.Shift("n0", "ana", "17:00", to, breakFrom,
                breakTo).BrokenRules);

    /// <summary>
    /// UK Working Time Regulations 1998, regulation 6A: young workers do not work in the restricted period from 22:00.
    /// </summary>
    [Theory]
    [InlineData("22:00", true)]
    [InlineData("22:15", false)]
    public void The_under_18s_finish_by_ten(string to, bool allowed) => Assert.Equal(allowed ? [] : ["young-worker"],
        Nights("Europe/London", "2026-09-07T18:00/2026-09-08T02:00").Rules(new() { Under18 = new() { Until = new(22, 0) } })
            .Person("ana", ana => ana with { Under18 = true }).Plan.Shift("n0", "ana", "18:00", to).BrokenRules);

    /// <summary>
    /// Elapsed hours of nights with a clock change (tz database). A shift of the whole night has exactly that length.
    /// </summary>
    [Theory]
    [InlineData("Europe/London", "2026-10-24T22:00/2026-10-25T06:00", 9)]
    [InlineData("Europe/London", "2026-03-28T22:00/2026-03-29T06:00", 7)]
    [InlineData("America/Los_Angeles", "2026-10-31T22:00/2026-11-01T06:00", 9)]
    [InlineData("America/Los_Angeles", "2026-03-07T22:00/2026-03-08T06:00", 7)]
    public void A_shift_over_a_clock_change_counts_elapsed_hours(string timeZone, string night, int hours)
    {
        var week = Nights(timeZone, night);
        TinyPlan Shift(int max, int min) => week.Rules(new() { MaxShiftMinutes = max, MinShiftMinutes = min }).Plan
            .Shift("n0", "ana", "22:00", "06:00");
        Assert.Empty(Shift(hours * 60, hours * 60).BrokenRules);
        Assert.Equal(["shift-length"], Shift(hours * 60 - 1, 0).BrokenRules);
        Assert.Equal(["shift-length"], Shift(24 * 60, hours * 60 + 1).BrokenRules);
    }

    /// <summary>
    /// Europe/London repeats the hour from 01:00 on 25 October 2026 (tz database). From 02:30, after that hour, to 12:30 are
    /// 10 h. From 00:30, before it, to 10:30 are 11 h, although the clock shows 10.
    /// </summary>
    [Theory]
    [InlineData("02:30", "12:30", false)]
    [InlineData("00:30", "10:30", true)]
    public void Rest_is_counted_in_elapsed_hours(string leaves, string returns, bool allowed) =>
        Assert.Equal(allowed ? [] : ["rest"],
        Nights("Europe/London", "2026-10-24T20:00/2026-10-25T03:00", "2026-10-25T10:30/2026-10-25T20:00")
            .Rules(new() { MinRestMinutes = 11 * 60 }).Plan.Shift("n0", "ana", "20:00", leaves)
            .Shift("n1", "ana", returns, "20:00")
                .BrokenRules);
}
