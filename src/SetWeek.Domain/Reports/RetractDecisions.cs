using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Reports;

/// <summary>The decisions that take a fact back.</summary>
public static class RetractDecisions
{
    /// <summary>
    /// Takes a report back. The report may still be on its way, so that its id may be unknown.
    /// </summary>
    /// <returns>The event; none for a repeated retraction.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Retract(this StoreWeek week, ReportRetracted retraction)
    {
        if (week.Facts.Find(retraction.Retracts) is ReportRetracted)
            return new Refusal("is-retraction",
                "A retraction cannot be taken back. Report the fact again, with another id.");
        return week.Recorded(retraction).MapT0(
            IReadOnlyList<IWeekEvent> (recorded) => recorded is null ? [] : [recorded]);
    }

    public static OneOf<AbsenceRetracted, Refusal> RetractAbsence(this StoreWeek week, string person, string night)
    {
        if (!week.Crew.Contains(person)) return Refusal.NotFound("person", person);
        if (week.Week.Nights.All(other => other.Id != night)) return Refusal.NotFound("night", night);
        return week.Absences.Contains((person, night)) ? new AbsenceRetracted(person, night)
            : new Refusal("not-absent", $"\"{person}\" is not marked absent for {Phrases.Night(week.Week, night)}; there is nothing to take back.");
    }

    public static OneOf<KitLineUnsettled, Refusal> UnsettleLine(this StoreWeek week, string kit, string item)
    {
        if (week.Week.Kits.FirstOrDefault(found => found.Id == kit) is not { } found) return Refusal.NotFound("kit", kit);
        if (found.Lines.FirstOrDefault(line => line.Item == item) is not { } line) return Refusal.NotFound("item", item);
        return line.Settled ? new KitLineUnsettled(kit, item)
            : new Refusal("not-settled", $"{item} of {found.Name} is not settled; there is nothing to take back.");
    }
}
