using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>The pins of a week with ids replaced by indexes and times by minutes.</summary>
public sealed class IndexedPins
{
    internal IndexedPins(Problem problem)
    {
        Stints = [.. problem.Week.Pins.OfType<StintPin>().SelectMany(pin =>
        {
            var task = problem.Tasks[problem.TaskOf(pin.Task)];
            return Enumerable.Range(1, task.StintCount).Where(number => pin.Stint is null || pin.Stint == number)
                .Select(number => new PinnedStint(task.FirstStint + number - 1,
                    pin.Night is { } night ? problem.NightOf(night) : null,
                    pin.From is { } from ? problem.Grid.MinuteOf(from) : null, [.. pin.People.Select(problem.PersonOf)]));
        })];
        Shifts = [.. problem.Week.Pins.OfType<ShiftPin>().Select(pin => new PinnedShift(
            problem.PersonOf(pin.Person), problem.NightOf(pin.Night), pin.Off,
            pin.From is { } from ? problem.Grid.MinuteOf(from) : null, pin.To is { } to ? problem.Grid.MinuteOf(to) : null))];
    }

    /// <summary>One entry for each pinned stint and pin.</summary>
    public IReadOnlyList<PinnedStint> Stints { get; }

    /// <summary>The pins of shifts.</summary>
    public IReadOnlyList<PinnedShift> Shifts { get; }
}

/// <summary>What a pin fixes of a stint.</summary>
/// <param name="Stint">Index of the stint.</param>
/// <param name="Night">Index of its night; null if open.</param>
/// <param name="From">Minute at which it starts; null if open.</param>
/// <param name="People">Indexes of people who are among its own.</param>
public sealed record PinnedStint(int Stint, int? Night, int? From, IReadOnlyList<int> People);

/// <summary>What a pin fixes of a person's shift in a night.</summary>
/// <param name="Person">Index of the person.</param>
/// <param name="Night">Index of the night.</param>
/// <param name="Off">True if the person has no shift; false if there is one.</param>
/// <param name="From">Minute at which it starts; null if open.</param>
/// <param name="To">Minute at which it ends; null if open.</param>
public sealed record PinnedShift(int Person, int Night, bool Off, int? From, int? To);
