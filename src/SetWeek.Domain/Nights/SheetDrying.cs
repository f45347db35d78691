using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work.Gates;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Nights;

/// <summary>
/// When finished paint is likely to be dry, estimated from the air that was read when it was finished. It is no permission: the
/// data sheet of the product comes first, and a hand or a test patch decides.
/// </summary>
/// <param name="Task">The id of the task that dries.</param>
/// <param name="PlannedMinutes">How long the direction lets it dry.</param>
/// <param name="Percent">The estimate in percent of them; absent where the air was outside the usual limits.</param>
/// <param name="DryFrom">From when it is estimated to be dry; absent where the air was outside the usual limits.</param>
/// <param name="Citation">Where the estimate comes from.</param>
public sealed record SheetDrying(
    string Task, string Name, int PlannedMinutes, int? Percent, OffsetDateTime? DryFrom, int DegreesCelsius, int MoisturePercent,
    string Citation)
{
    /// <param name="minutes">How long the direction lets the task dry.</param>
    /// <returns>Null unless all stints of the task are done, and the air was read when the last of them was finished.</returns>
    internal static SheetDrying? Of(StoreWeek week, string task, int minutes)
    {
        if (minutes == 0 || week.Week.Tasks.FirstOrDefault(known => known.Id == task) is not { } found
            || !UsualGates.Known.Air.Traits.Intersect(found.Traits).Any())
            return null;
        var stints = Enumerable.Range(1, found.Stints)
            .Select(stint => week.ReportedWork.StatusOf(new WorkKey(task, stint))).ToList();
        if (stints.Any(stint => stint is not { State: WorkState.Done, To: not null })) return null;
        var last = stints.MaxBy(stint => stint!.To!.Value.ToInstant())!;
        if (last.Air is not { } air) return null;
        var percent = UsualGates.Known.Air.DryingPercent(air.DegreesCelsius, air.MoisturePercent);
        return new SheetDrying(task, found.Name, minutes, percent, percent is { } part
                ? StoreTime.AtStore(week, last.To!.Value.PlusMinutes(AirLimits.DryingMinutes(minutes, part))) : null,
            air.DegreesCelsius, air.MoisturePercent, UsualGates.Known.Air.Drying.Citation);
    }
}
