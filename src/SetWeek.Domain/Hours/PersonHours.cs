using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Hours;

/// <summary>The hours of a person in a night.</summary>
/// <param name="Shift">The published shift; null for somebody who worked without one.</param>
/// <param name="WorkedMinutes">Minutes of reported work (<see cref="WorkedTime"/>); null if none is reported.</param>
public sealed record PersonHours(string Night, string Person, PlannedShift? Shift, int? WorkedMinutes)
{
    /// <summary>Paid minutes of the shift: without its break.</summary>
    public int PlannedMinutes => Shift is null ? 0 : Minutes(Shift) - (Shift.Break is { } pause
        ? (int)(pause.To.ToInstant() - pause.From.ToInstant()).TotalMinutes : 0);

    /// <summary>
    /// Everybody who has a shift or did reported work, by night, then by id. The nights are in the order of their openings; those
    /// that the week has dropped and the plan still has come last.
    /// </summary>
    public static IReadOnlyList<PersonHours> Of(StoreWeek week, Plan published)
    {
        var worked = WorkedTime.Minutes(week, published);
        return
        [
            .. from night in week.Week.Nights.OrderBy(night => night.Opens).Select(night => night.Id)
                   .Union(published.Nights.Select(night => night.Night))
               let shifts = published.Nights.Where(planned => planned.Night == night).SelectMany(planned => planned.Shifts)
                   .ToDictionary(shift => shift.Person)
               from person in shifts.Keys.Union(worked.Keys.Where(key => key.Night == night).Select(key => key.Person))
                   .Order(StringComparer.Ordinal)
               select new PersonHours(night, person, shifts.GetValueOrDefault(person),
                   worked.TryGetValue((person, night), out var minutes) ? minutes : null),
        ];
    }

    private static int Minutes(PlannedShift shift) => (int)(shift.To.ToInstant() - shift.From.ToInstant()).TotalMinutes;
}
