using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>
/// Stops of work as the planner reads them. The tasks of a stopped zone get a trait of their own, which is banned from the time
/// of the stop to the end of its night. So no plan starts one of them there, and a plan that does breaks a rule.
/// </summary>
internal static class StopBans
{
    private const string Stopped = "stopped";

    public static Week Apply(StoreWeek state, Week week) => state.StandingStops.Aggregate(week, (stopped, stop) => stopped with
    {
        Nights = [.. stopped.Nights.Select(night => night.Id == stop.Night ? Banned(state, night, stop) : night)],
        Tasks = [.. stopped.Tasks.Select(task => stop.Zone is null || task.Zone == stop.Zone ? Marked(task, stop) : task)],
    });

    /// <summary>
    /// The wanted week without the traits and bans of stops, so that a decision does not make them last. A trait or a ban of the
    /// same words that the week has by itself stays.
    /// </summary>
    public static Week Remove(StoreWeek state, Week wanted)
    {
        var stops = state.StandingStops.Select(TraitOf).ToHashSet();
        if (stops.Count == 0) return wanted;
        var bans = state.Week.Nights.ToDictionary(night => night.Id, night => night.Bans);
        var traits = state.Week.Tasks.ToDictionary(task => task.Id, task => task.Traits);
        return wanted with
        {
            Nights = [.. wanted.Nights.Select(night => night with
            {
                Bans = [.. night.Bans.Where(ban =>
                    !stops.Contains(ban.Trait) || bans.TryGetValue(night.Id, out var own) && own.Contains(ban))],
            })],
            Tasks = [.. wanted.Tasks.Select(task => task with
            {
                Traits = [.. task.Traits.Where(trait =>
                    !stops.Contains(trait) || traits.TryGetValue(task.Id, out var own) && own.Contains(trait))],
            })],
        };
    }

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
