using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Reports;

/// <summary>The decisions that take a fact back.</summary>
public static class RetractDecisions
{
    private static readonly Refusal NotYours = new("not-yours",
        "Somebody else has entered this report, and you had no part in what it tells. Ask the lead to take it back.")
        { IsForbidden = true };

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

    /// <summary>
    /// Takes a report back as a lead, or as a member of the crew: those take back what is theirs. While the report is on its way,
    /// nobody knows whose it is; only the device that made it knows its id.
    /// </summary>
    /// <param name="by">The id of the person who takes it back.</param>
    /// <param name="enteredBy">The id of the person who entered the report; null if it has not arrived.</param>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Retract(
        this StoreWeek week, ReportRetracted retraction, string by, bool isLead, string? enteredBy) =>
        isLead || week.Facts.Find(retraction.Retracts) is not { } report || week.IsTheirs(report, by, enteredBy)
            ? week.Retract(retraction) : NotYours;

    /// <summary>
    /// Why a member of the crew may not record reports: one of them corrects a report that is not theirs. A correction takes the
    /// other report out, as a retraction does. A stop or a retraction stays, whatever corrects it.
    /// </summary>
    /// <param name="by">The id of the person who records them.</param>
    /// <param name="enteredBy">Gives the id of the person who entered a report, by the id of the report.</param>
    /// <returns>Null if nothing stands against it.</returns>
    public static Refusal? RefusalOfCorrection(
        this StoreWeek week, IEnumerable<IWeekEvent> recorded, string by, Func<string, string?> enteredBy) =>
        recorded.OfType<IFloorReport>().Any(report => report.Corrects is { } corrected
            && week.Facts.Find(corrected) is { } known and not (WorkStopped or ReportRetracted)
            && !week.IsTheirs(known, by, enteredBy(corrected))) ? NotYours : null;

    /// <summary>Whether a person has entered the report, or did with others what it tells.</summary>
    /// <param name="enteredBy">The id of the person who entered it; null if nobody is known.</param>
    public static bool IsTheirs(this StoreWeek week, IFloorReport report, string person, string? enteredBy) =>
        enteredBy == person || report switch
        {
            IWorkReport work => week.PeopleOf(work).Contains(person),
            PersonCame came => came.Person == person,
            PersonLeft left => left.Person == person,
            AreaLookedAt look => look.With.Contains(person),
            DisplayShown shown => shown.To.Contains(person),
            _ => false,
        };

    public static OneOf<AbsenceRetracted, Refusal> RetractAbsence(this StoreWeek week, CrewFile crew, string person, string night)
    {
        if (!week.Crew.Contains(person)) return Refusal.NotFound("person", person);
        if (week.Week.Nights.All(other => other.Id != night)) return Refusal.NotFound("night", night);
        return week.Absences.Contains((person, night)) ? new AbsenceRetracted(person, night)
            : new Refusal("not-absent", $"{crew.NameOf(person)} is not marked absent for {Phrases.Night(week.Week, night)}; "
                + "there is nothing to take back.");
    }

    public static OneOf<KitLineUnsettled, Refusal> UnsettleLine(this StoreWeek week, string kit, string item)
    {
        if (week.Week.Kits.FirstOrDefault(found => found.Id == kit) is not { } found) return Refusal.NotFound("kit", kit);
        if (found.Lines.FirstOrDefault(line => line.Item == item) is not { } line) return Refusal.NotFound("item", item);
        return line.Settled ? new KitLineUnsettled(kit, item)
            : new Refusal("not-settled",
                $"“{IdWords.Spaced(item)}” of “{found.Name}” is not settled; there is nothing to take back.");
    }
}
