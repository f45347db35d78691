using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>
/// Stops of work as the planner reads them. The tasks of a stopped zone get a trait of their own, which is banned from the time of
/// the stop to the end of its night. So no plan starts one of them there, and a plan that does breaks a rule.
/// </summary>
internal static class StopBans
{
    private const string Stopped = "stopped";

    public static Week Apply(StoreWeek state, Week week) => state.StandingStops.Aggregate(week, (stopped, stop) => stopped with
    {
        Nights = [.. stopped.Nights.Select(night => night.Id == stop.Night ? Banned(state, night, stop) : night)],
        Tasks = [.. stopped.Tasks.Select(task => stop.Zone is null || task.Zone == stop.Zone ? Marked(task, stop) : task)],
    });

    /// <summary>The week without stops, so that a decision about it does not make them last.</summary>
    public static Week Remove(Week week) => week with
    {
        Nights = [.. week.Nights.Select(night => night.Bans.Any(ban => IsStop(ban.Trait))
            ? night with { Bans = [.. night.Bans.Where(ban => !IsStop(ban.Trait))] } : night)],
        Tasks = [.. week.Tasks.Select(task => task.Traits.Any(IsStop)
            ? task with { Traits = [.. task.Traits.Where(trait => !IsStop(trait))] } : task)],
    };

    private static bool IsStop(string trait) => trait == Stopped || trait.StartsWith($"{Stopped} (", StringComparison.Ordinal);

    /// <summary>A trait that reads well in the sentence of the rule: "Paint the wall is stopped (window)".</summary>
    private static string TraitOf(WorkStopped stop) => stop.Zone is { } zone ? $"{Stopped} ({zone})" : Stopped;

    private static WeekTask Marked(WeekTask task, WorkStopped stop) =>
        task.Traits.Contains(TraitOf(stop)) ? task : task with { Traits = [.. task.Traits, TraitOf(stop)] };

    private static Night Banned(StoreWeek state, Night night, WorkStopped stop)
    {
        var at = StoreTime.Local(state, stop.EffectiveAt());
        var from = at > night.Opens ? at : night.Opens;
        return from >= night.Closes ? night
            : night with { Bans = [.. night.Bans, new Ban(TraitOf(stop), from, night.Closes)] };
    }
}
