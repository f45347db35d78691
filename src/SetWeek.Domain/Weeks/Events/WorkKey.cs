namespace SetWeek.Domain.Weeks.Events;

/// <summary>Identifies a stint of a task (stints count from 1), or the clean-down of a zone in a night.</summary>
public readonly record struct WorkKey(string? Task, int Stint, string? CleanDown = null, string? Night = null)
{
    public static WorkKey CleanDownOf(string zone, string night) => new(null, 0, zone, night);
}
