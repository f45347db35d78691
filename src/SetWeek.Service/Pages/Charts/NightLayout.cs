using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Charts;

/// <summary>
/// What the chart of a night shows, and where: lanes by person and by zone. Positions are elapsed minutes since the night opens,
/// so a drawing that scales them is true to time in a night with a clock change too.
/// </summary>
/// <param name="Range">What the chart covers: the window of the night, and what is planned outside it.</param>
/// <param name="Window">From the opening of the night to its closing.</param>
/// <param name="Hours">Every full hour of local time in the range.</param>
/// <param name="Kits">Kits that arrive during the night.</param>
public sealed record NightLayout(
    string Night, string Name, Span Range, Span Window, IReadOnlyList<ChartMark> Hours, IReadOnlyList<ChartSpan> Bans,
    IReadOnlyList<ChartMark> Kits, IReadOnlyList<Lane> ByPerson, IReadOnlyList<Lane> ByZone)
{
    /// <param name="nights">All nights of the plan: paint of an earlier night may still be drying.</param>
    /// <param name="notes">Numbers and marks of the pieces; null: none.</param>
    public static NightLayout Of(
        Week week, IReadOnlyList<PlannedNight> nights, PlannedNight night, NightNotes? notes = null)
    {
        var words = new WeekLabels(week);
        var times = new NightTimes(week, words, night);
        var range = times.Range(night);
        var bans = times.Window is null ? [] : times.Window.Bans.Select(ban => new ChartSpan(
            times.Of(ban.From, ban.To).Clip(range), NameOf(ban, times.Window))).Where(ban => ban.Span.Minutes > 0);
        var kits = week.Kits.Where(kit => kit.Eta is not null).Select(kit => new ChartMark(times.Of(kit.Eta!.Value), kit.Name))
            .Where(kit => range.From <= kit.Minute && kit.Minute < range.To).OrderBy(kit => kit.Minute);
        var lanes = new NightLanes(week, words, times, night, notes ?? NightNotes.None);
        return new NightLayout(night.Night, words.NightName(night.Night), range, times.WindowSpan ?? range, times.Hours(range),
            [.. bans], [.. kits], lanes.ByPerson(), lanes.ByZone(ZoneRest.Of(week, nights), range));
    }

    private static string NameOf(Ban ban, Night window) => (ban.From <= window.Opens, ban.To >= window.Closes) switch
    {
        (true, true) => $"no {ban.Trait} work",
        (true, false) => $"no {ban.Trait} work until {WeekLabels.Time(ban.To)}",
        (false, true) => $"no {ban.Trait} work from {WeekLabels.Time(ban.From)}",
        _ => $"no {ban.Trait} work from {WeekLabels.Time(ban.From)} to {WeekLabels.Time(ban.To)}",
    };
}

/// <summary>A point in time with its name.</summary>
public readonly record struct ChartMark(int Minute, string Text);

/// <summary>A span of time with its name.</summary>
public readonly record struct ChartSpan(Span Span, string Text);

/// <summary>A person or a zone, with everything that the night has for it.</summary>
/// <param name="Note">The shift of a person, or the room of a zone.</param>
/// <param name="HasKeys">Whether it is the keyholder of the night.</param>
/// <param name="Pattern">The pattern of a zone, from 0; null for a person.</param>
/// <param name="Shift">The shift of a person.</param>
/// <param name="Rows">Rows in which bars and rests lie side by side; at least one.</param>
public sealed record Lane(
    string Name, string Note, bool HasKeys, int? Pattern, Span? Shift, Span? Break, IReadOnlyList<Bar> Bars,
    IReadOnlyList<RestBar> Rests, int Rows);

/// <summary>A piece of work.</summary>
/// <param name="With">The zone and the others at work in a person's lane; the people in a zone's.</param>
/// <param name="Title">All of it in one sentence.</param>
/// <param name="Pattern">The pattern of its zone, from 0.</param>
public sealed record Bar(Span Span, int Row, PlannedWork Work, string Name, string With, string Title, int Pattern)
{
    public bool IsCleanDown => Work.CleanDown is not null;

    /// <summary>Whether it has five minutes in hand or fewer.</summary>
    public bool IsTight { get; init; }

    /// <summary>Whether it is another than in the issue before.</summary>
    public bool IsChanged { get; init; }

    /// <summary>
    /// A clean-down has a shorter name where the whole one has no room, and none where that has no room either.
    /// </summary>
    public string NameWithin(double room, double size) => !IsCleanDown || TextFit.Width(Name, size) <= room ? Name
        : TextFit.Width(ShortCleanDown, size) <= room ? ShortCleanDown : "";

    public const string ShortCleanDown = "clean";
}

/// <summary>Time in which a zone dries or is closed, as far as it lies in the night.</summary>
public sealed record RestBar(Span Span, int Row, bool IsClosed, string Text);

/// <summary>Converts the times of a night to elapsed minutes since it opens.</summary>
internal sealed class NightTimes
{
    private readonly Grid grid;
    private readonly bool clocksChange;

    public NightTimes(Week week, WeekLabels words, PlannedNight night)
    {
        Window = words.Night(night.Night);
        // A plan may still have a night that the week has dropped.
        var opens = Window?.Opens ?? night.Shifts.Select(shift => shift.From.LocalDateTime)
            .Concat(night.Work.Select(work => work.From.LocalDateTime)).DefaultIfEmpty(week.Launch).Min();
        grid = new Grid(week.Store.TimeZone, opens, week.GridMinutes);
        clocksChange = words.ClocksChange(night.Night);
    }

    /// <summary>Null if the week no longer has the night.</summary>
    public Night? Window { get; }

    public Span? WindowSpan => Window is null ? null : new Span(0, Of(Window.Closes));

    public int Of(LocalDateTime time) => grid.MinuteOf(time);

    public Span Of(LocalDateTime from, LocalDateTime to) => new(Of(from), Of(to));

    public Span Of(OffsetDateTime from, OffsetDateTime to) => new(grid.MinuteOf(from), grid.MinuteOf(to));

    public string Text(OffsetDateTime time) => WeekLabels.Time(time, clocksChange);

    public Span Range(PlannedNight night)
    {
        Span[] all = [WindowSpan ?? new Span(0, 0), .. night.Shifts.Select(shift => Of(shift.From, shift.To)),
            .. night.Work.Select(work => Of(work.From, work.To))];
        var from = all.Min(span => span.From);
        return new Span(from, Math.Max(all.Max(span => span.To), from + 1));
    }

    public IReadOnlyList<ChartMark> Hours(Span range) =>
        [.. Enumerable.Range(range.From, range.Minutes + 1).Select(minute => (Minute: minute, Time: grid.TimeOf(minute)))
            .Where(moment => moment.Time.Minute == 0).Select(moment => new ChartMark(moment.Minute, Text(moment.Time)))];
}
