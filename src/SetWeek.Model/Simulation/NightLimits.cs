using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Model.Simulation;

/// <summary>Computes how early the work of a night can start, and how late people can stay without breaking a rule.</summary>
internal sealed class NightLimits
{
    private readonly Problem problem;
    private readonly ScheduledShift?[,] shifts;

    public NightLimits(Problem problem, Schedule schedule)
    {
        this.problem = problem;
        shifts = new ScheduledShift?[problem.Crew.Count, problem.Nights.Count];
        foreach (var shift in schedule.Shifts) shifts[shift.Person, shift.Night] = shift;
        Keyholders = schedule.Keyholders;
        LatestDepartures = new float[problem.Crew.Count, problem.Nights.Count];
        foreach (var night in problem.Nights)
            foreach (var person in problem.Crew)
                LatestDepartures[person.Index, night.Index] = shifts[person.Index, night.Index] is { } shift
                    ? LatestDepartureOf(shift) : night.Closes;
        ClosingMinutes = problem.Rules.KeyholderPresent ? problem.Rules.ClosingMinutes ?? 0 : 0;
        EarliestStarts = [.. problem.Nights.Select(EarliestStart)];
        LatestEnds = [.. problem.Nights.Select(LatestEnd)];
    }

    public IReadOnlyList<int?> Keyholders { get; }

    /// <summary>Minutes that the keyholder needs for closing after the night's last work.</summary>
    public int ClosingMinutes { get; }

    /// <summary>By night: the earliest start of work.</summary>
    public IReadOnlyList<float> EarliestStarts { get; }

    /// <summary>By night: the latest end of work that keeps all rules.</summary>
    public IReadOnlyList<float> LatestEnds { get; }

    /// <summary>
    /// By person and night: the latest end of the person's shift that keeps all rules; the night's end if the plan has no shift.
    /// </summary>
    public float[,] LatestDepartures { get; }

    public ScheduledShift? ShiftOf(int person, int night) => shifts[person, night];

    private float EarliestStart(NightWindow night) =>
        problem.Rules.KeyholderPresent && Keyholders[night.Index] is { } keyholder && shifts[keyholder, night.Index] is { } shift
            ? shift.From + (problem.Rules.OpeningMinutes ?? 0) : night.Opens;

    /// <summary>
    /// Closing needs the keyholder. Until the last work ends, the least number of people that must be present together stays.
    /// </summary>
    private float LatestEnd(NightWindow night)
    {
        float end = night.Closes;
        if (problem.Rules.KeyholderPresent && Keyholders[night.Index] is { } keyholder
            && shifts[keyholder, night.Index] is not null)
            end = Math.Min(end, LatestDepartures[keyholder, night.Index]);
        if (problem.Rules.MinPeople is { } together)
        {
            var stays = problem.Crew.Where(person => shifts[person.Index, night.Index] is not null)
                .Select(person => LatestDepartures[person.Index, night.Index]).OrderDescending().Skip(together - 1).ToArray();
            if (stays.Length > 0) end = Math.Min(end, stays[0]);
        }
        return end - ClosingMinutes;
    }

    private float LatestDepartureOf(ScheduledShift shift)
    {
        var nextFrom = Problem.Never;
        for (var later = shift.Night + 1; later < problem.Nights.Count && nextFrom == Problem.Never; later++)
            if (shifts[shift.Person, later] is { } next) nextFrom = next.From;
        return LatestDeparture(problem, shift.Person, shift.Night, shift.Span, shift.Break?.To, nextFrom);
    }

    /// <summary>
    /// The latest end of a shift that keeps all rules, in minutes. It is at least the planned end, because the check has accepted
    /// the planned shift.
    /// </summary>
    /// <param name="problem">The problem.</param>
    /// <param name="personIndex">Index of the person.</param>
    /// <param name="night">Index of the night.</param>
    /// <param name="shift">The planned shift.</param>
    /// <param name="breakTo">End of its break; null if it has none.</param>
    /// <param name="nextFrom">Start of the person's next shift; <see cref="Problem.Never"/> if there is none.</param>
    public static int LatestDeparture(
        Problem problem, int personIndex, int night, Span shift, int? breakTo, int nextFrom)
    {
        var person = problem.Crew[personIndex];
        var joinedMinutes = 0;
        var latest = Math.Min(problem.Nights[night].Closes, nextFrom - person.MinRest);
        foreach (var busy in person.Commitments)
        {
            if (busy.From >= shift.To) latest = Math.Min(latest, busy.From - person.MinRest);
            if (busy.To <= shift.From && shift.From - busy.To <= person.JoinMinutes) joinedMinutes += busy.Minutes;
        }
        var maxMinutes = Math.Min(person.MaxShift - joinedMinutes, person.MaxMinutesPerNight);
        latest = Math.Min(latest, shift.From + Math.Min(maxMinutes, Problem.Never / 2));
        foreach (var window in person.ShiftWindows[night])
            if (window.From <= shift.From && shift.From < window.To) latest = Math.Min(latest, window.To);
        if (person.BreakAfter < Problem.Never) latest = Math.Min(latest, (breakTo ?? shift.From) + person.BreakAfter);
        return Math.Max(shift.To, latest);
    }
}
