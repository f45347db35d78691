using System.Text.Json.Serialization;
using NodaTime;

namespace SetWeek.Model.Weeks;

/// <summary>A part of the plan that somebody has fixed: every plan agrees with it.</summary>
[JsonDerivedType(typeof(StintPin), "stint"), JsonDerivedType(typeof(ShiftPin), "shift")]
public abstract record Pin
{
    /// <summary>What is left of the pin where a person cannot come.</summary>
    /// <param name="person">Id of the person.</param>
    /// <param name="night">Id of the night in which they cannot come; null means any night.</param>
    /// <returns>Null if the pin lapses.</returns>
    public abstract Pin? Without(string person, string? night);
}

/// <summary>Fixes where, when or by whom a stint is done. It binds nothing if the task's display is not placed.</summary>
/// <param name="Task">Id of the task.</param>
public sealed record StintPin(string Task) : Pin
{
    /// <summary>Number of the stint, from 1; null means every stint of the task.</summary>
    public int? Stint { get; init; }

    /// <summary>Id of its night; null leaves it open.</summary>
    public string? Night { get; init; }

    /// <summary>Store-local time at which it starts; null leaves it open.</summary>
    public LocalDateTime? From { get; init; }

    /// <summary>Ids of people who are among its own.</summary>
    public IReadOnlyList<string> People { get; init; } = [];

    /// <inheritdoc/>
    public override Pin Without(string person, string? night) => night is not null && night != Night ? this
        : this with { People = [.. People.Where(other => other != person)] };
}

/// <summary>Fixes a person's shift in a night, or that there is none.</summary>
/// <param name="Person">Id of the person.</param>
/// <param name="Night">Id of the night.</param>
public sealed record ShiftPin(string Person, string Night) : Pin
{
    /// <summary>True if the person has no shift that night.</summary>
    public bool Off { get; init; }

    /// <summary>Store-local time at which the shift starts; null leaves it open.</summary>
    public LocalDateTime? From { get; init; }

    /// <summary>Store-local time at which the shift ends; null leaves it open.</summary>
    public LocalDateTime? To { get; init; }

    /// <inheritdoc/>
    public override Pin? Without(string person, string? night) =>
        person == Person && (night ?? Night) == Night ? null : this;
}
