using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds work that the whole crew together could not do (<see cref="CrewGap"/>).</summary>
internal static class CrewFaults
{
    public static IEnumerable<Fault> Of(Week week, Func<string, bool> isFaultFree)
    {
        // A crew that could not be read completely may contain the missing people.
        if (!isFaultFree("/crew")) yield break;
        foreach (var gap in CrewGap.AllOf(week)) yield return new Fault(gap.Pointer, DetailOf(gap));
    }

    private static string DetailOf(CrewGap gap) => gap.Role is { } role
        ? $"The role asks for {WeekPhrases.People(role.People)} with {QuotedInput.Of(role.Skill)} at level {role.Level}, "
            + $"but {(gap.Able == 0 ? "nobody" : $"only {gap.Able}")} in the crew can fill it"
            + $"{(gap.Trait is { } trait ? $" and may do work that is {QuotedInput.Of(trait)}" : "")}; add people, "
            + "ask for fewer, or remove the role."
        : $"These roles together ask for {gap.Needed} people at once, one role each, but the crew can fill "
            + $"at most {gap.Able}; add people, ask for fewer, or remove a role.";
}
