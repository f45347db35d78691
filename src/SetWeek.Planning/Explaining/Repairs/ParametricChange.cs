using SetWeek.Model.Changes;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>
/// A change with a size, from the smallest step to the largest: a night that closes 15 minutes later, 30 minutes later, and so
/// on. A larger step allows every plan that a smaller one allows.
/// </summary>
/// <param name="Steps">The number of steps; at least 1.</param>
/// <param name="ChangeAt">The change at a step, numbered from 0.</param>
internal sealed record ParametricChange(int Steps, Func<int, WeekChange> ChangeAt)
{
    public WeekChange Largest => ChangeAt(Steps - 1);

    /// <summary>True if a promised display is left out. Such changes are tried, and listed, last.</summary>
    public bool IsLastResort => Largest is LeaveOut;

    public static ParametricChange Single(WeekChange change) => new(1, _ => change);
}
