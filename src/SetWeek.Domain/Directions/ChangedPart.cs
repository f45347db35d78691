namespace SetWeek.Domain.Directions;

/// <summary>A part of a display, a task, a kit or a card that two versions of a direction say differently.</summary>
/// <param name="Before">What the earlier version says, in lines as people read them; empty if it says nothing.</param>
/// <param name="After">The same of the later version.</param>
public sealed record ChangedPart(string Name, IReadOnlyList<string> Before, IReadOnlyList<string> After);
