namespace SetWeek.Domain.Weeks.Events;

/// <summary>A stint of a task (Stint from 1), or the clean-down of a zone in a night.</summary>
public readonly record struct WorkKey(string? Task, int Stint, string? CleanDown = null, string? Night = null)
{
    public static WorkKey CleanDownOf(string zone, string night) => new(null, 0, zone, night);
}
