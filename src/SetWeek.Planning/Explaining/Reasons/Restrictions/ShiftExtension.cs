using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Extends shifts, or adds new ones, to cover work. The extension is as short as possible, and a break is placed where the work
/// leaves room for it. The result may still break rules, so it has to be checked.
/// </summary>
internal sealed class ShiftExtension(Problem problem)
{
    /// <summary>
    /// The person's shift of a night, extended to cover a span. A break is placed outside the span and their own work.
    /// </summary>
    public ScheduledShift Cover(ScheduledShift? shift, int person, int night, Span span, IReadOnlyList<ScheduledWork> ownWork)
    {
        var start = span.From - (shift is not null && problem.HasBegun(shift) ? 0 : problem.Crew[person].Briefing);
        if (shift is not null && shift.From <= start && span.To <= shift.To) return WithBreak(shift, span, ownWork);
        var from = RoundDownToShiftGrid(night, Math.Min(start, shift?.From ?? start));
        var to = problem.NextShiftSlot(night, Math.Max(span.To, shift?.To ?? span.To));
        if (shift is not null && shift.From <= span.From) from = shift.From;
        if (shift is not null && shift.To >= span.To) to = shift.To;
        var extended = WithMinimumLength(problem.Crew[person], night, new(from, to));
        var original = shift ?? new ScheduledShift(person, night, from, to, null);
        return WithBreak(original with { From = extended.From, To = extended.To }, span, ownWork);
    }

    private int RoundDownToShiftGrid(int night, int minute)
    {
        var slot = problem.NextShiftSlot(night, minute);
        return slot > minute ? slot - problem.ShiftGridMinutes : slot;
    }

    /// <summary>
    /// Extends a span to the minimum shift length, with the latest start that the person's availability allows.
    /// </summary>
    private Span WithMinimumLength(Person person, int night, Span required)
    {
        var opens = problem.Nights[night].Opens;
        var minimum = problem.NextShiftSlot(night, opens + person.MinShift) - opens;
        if (required.Minutes >= minimum) return required;
        for (var from = required.From; from >= required.To - minimum; from -= problem.ShiftGridMinutes)
        {
            var span = new Span(from, from + minimum);
            if (person.ShiftWindows[night].Any(window => window.Contains(span))
                && !person.Commitments.Any(busy => busy.Overlaps(span)))
                return span;
        }
        // It fits nowhere. Staying within the night makes the check blame the person's availability, not the night's window.
        var latest = Math.Max(opens, Math.Min(required.From, problem.LastShiftSlot(night) - minimum));
        return new Span(latest, latest + minimum);
    }

    private ScheduledShift WithBreak(ScheduledShift shift, Span span, IReadOnlyList<ScheduledWork> ownWork)
    {
        var person = problem.Crew[shift.Person];
        if (shift.Span.Minutes <= person.BreakAfter) return shift with { Break = null };
        var clear = problem.HasBegun(shift) ? 0 : person.BreakClear;
        Span[] works = [span, .. ownWork.Where(work => work.Night == shift.Night && !problem.HasBegun(work))
            .Select(work => work.Span).Where(work => work != span)];
        if (shift.Break is { } kept && (problem.HasBegun(kept) || Fits(kept) && IsBetweenWork(kept))) return shift;
        var middle = (shift.From + shift.To - person.BreakMinutes) / 2;
        var breaks = new List<Span>();
        for (var from = problem.NextSlot(shift.Night, shift.From); from + person.BreakMinutes <= shift.To;
            from += problem.Grid.SlotMinutes)
            if (new Span(from, from + person.BreakMinutes) is var rest && Fits(rest)) breaks.Add(rest);
        return breaks.Count == 0 ? shift with { Break = null } : shift with
        {
            Break = breaks.OrderBy(rest => IsBetweenWork(rest) ? 0 : 1)
                .ThenBy(rest => Math.Abs(rest.From - (shift.Break?.From ?? middle))).First(),
        };

        bool Fits(Span rest) => rest.From - shift.From <= person.BreakAfter && shift.To - rest.To <= person.BreakAfter
            && rest.From - shift.From >= clear && shift.To - rest.To >= clear && !works.Any(work => work.Overlaps(rest));

        bool IsBetweenWork(Span rest) => works.Length < 2
            || (works.Any(work => work.To <= rest.From) && works.Any(work => work.From >= rest.To));
    }
}
