using SetWeek.Model.Changes;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>
/// A kind of change to one thing, from the least to the most that could be asked: a night that closes 15 minutes later, 30,
/// and so on. More never helps less.
/// </summary>
/// <param name="Steps">How many there are; at least one.</param>
/// <param name="ChangeAt">The change of a step, from 0.</param>
internal sealed record ParametricChange(int Steps, Func<int, WeekChange> ChangeAt)
{
    public WeekChange Largest => ChangeAt(Steps - 1);

    /// <summary>Only where nothing else does, or last: what was promised is not built.</summary>
    public bool IsLastResort => Largest is LeaveOut;

    public static ParametricChange Single(WeekChange change) => new(1, _ => change);
}
