using Google.OrTools.Sat;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>Which keyholder the plan names for a night.</summary>
internal sealed partial class CpWeekModel
{
    private readonly Dictionary<(int Person, int Night), ILiteral> spansAttendance = [];
    private readonly Dictionary<(int Person, int Night), ILiteral> namedKeyholders = [];

    /// <summary>The shift has begun or is over (re-plan).</summary>
    public bool HasBegun(CpShift shift) =>
        shift.Begun is not null || shift.FixedShift is { } known && known.From < Now;

    /// <summary>A literal that is true only where the shift covers the span in which the store is attended.</summary>
    public ILiteral SpansAttendance(CpShift shift)
    {
        if (!spansAttendance.TryGetValue((shift.Person, shift.Night), out var spans))
        {
            var attendance = StoreAttendance[shift.Night];
            spansAttendance[(shift.Person, shift.Night)] = spans = Cp.NewBoolVar("");
            Implies(spans, shift.Present);
            AtMost(shift.From - attendance.From, 0, spans);
            AtLeast(shift.To - attendance.To, 0, spans);
        }
        return spans;
    }

    /// <summary>
    /// A literal for: the plan names the person as the night's keyholder, the first in crew order whose shift spans all others.
    /// False in a night under way, where the rules do not ask for it. Valid only together with the keyholder rule.
    /// </summary>
    public ILiteral NamedKeyholder(CpShift shift)
    {
        if (!Problem.Rules.KeyholderPresent || !Problem.Crew[shift.Person].Keyholder || IsFixedFalse(shift.Present)
            || ShiftsOn(shift.Night).Any(HasBegun)) return FalseLiteral;
        if (ShiftsOn(shift.Night).All(other => other.IsFixed))
            return FirstSpanning([.. ShiftsOn(shift.Night).Select(other => other.FixedShift).OfType<ScheduledShift>()])
                == shift.Person ? TrueLiteral : FalseLiteral;
        if (!namedKeyholders.ContainsKey((shift.Person, shift.Night))) AddNamedKeyholders(shift.Night);
        return namedKeyholders[(shift.Person, shift.Night)];
    }

    private void AddNamedKeyholders(int night)
    {
        var attendance = StoreAttendance[night];
        var earlier = new List<ILiteral>();
        foreach (var shift in ShiftsOn(night))
        {
            if (!Problem.Crew[shift.Person].Keyholder || IsFixedFalse(shift.Present)) continue;
            // A shift that spans the others has a true literal: it may be false only where the shift is shorter at one end.
            var (spans, startsLater, endsEarlier) = (SpansAttendance(shift), Cp.NewBoolVar(""), Cp.NewBoolVar(""));
            AtLeast(shift.From - attendance.From, 1, startsLater);
            AtLeast(attendance.To - shift.To, 1, endsEarlier);
            NotAll(shift.Present, spans.Not(), startsLater.Not(), endsEarlier.Not());
            var named = earlier.Count == 0 ? spans : Cp.NewBoolVar("");
            if (earlier.Count > 0)
            {
                Implies(named, spans);
                foreach (var other in earlier) NotAll(named, other);
                NotAll([spans, named.Not(), .. earlier.Select(other => other.Not())]);
            }
            namedKeyholders[(shift.Person, night)] = named;
            earlier.Add(spans);
        }
    }
}
