using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds pins that no plan could agree with, whatever the rest of the week.</summary>
internal static class PinFaults
{
    public static IEnumerable<Fault> Of(Week week)
    {
        var nights = week.Nights.DistinctBy(night => night.Id).ToDictionary(night => night.Id);
        foreach (var (index, pin) in week.Pins.Index())
        {
            var at = $"/pins/{index}";
            if (pin is StintPin stint)
            {
                if (week.Tasks.FirstOrDefault(task => task.Id == stint.Task) is { } task && stint.Stint > task.Stints)
                    yield return new Fault($"{at}/stint",
                        $"The task has {task.Stints} stints, so there is no stint {stint.Stint}; "
                            + $"give one from 1 to {task.Stints}.");
                if (stint.From is { } from && !week.Nights.Any(night => (stint.Night is null || night.Id == stint.Night)
                    && night.Opens <= from && from < night.Closes) && (stint.Night is null || nights.ContainsKey(stint.Night)))
                    yield return new Fault($"{at}/from", stint.Night is null
                        ? $"No night is open at {TimePatterns.Write(from)}; check the date after midnight."
                        : OutsideOf(nights[stint.Night]));
            }
            else if (pin is ShiftPin shift)
            {
                if (shift.Off && (shift.From ?? shift.To) is not null)
                    yield return new Fault($"{at}/off", "A shift that is off has no times; leave out off, or from and to.");
                if (!nights.TryGetValue(shift.Night, out var night)) continue;
                if (shift.From is { } from && (from < night.Opens || from >= night.Closes))
                    yield return new Fault($"{at}/from", OutsideOf(night));
                if (shift.To is { } to && (to <= night.Opens || to > night.Closes))
                    yield return new Fault($"{at}/to", OutsideOf(night));
                if (shift.From >= shift.To)
                    yield return new Fault($"{at}/to", "The shift ends no later than it begins; check both times.");
            }
        }
    }

    private static string OutsideOf(Night night) =>
        $"The time lies outside night {QuotedInput.Of(night.Id)}, which is from {TimePatterns.Write(night.Opens)} to "
            + $"{TimePatterns.Write(night.Closes)}; check the date after midnight.";
}
