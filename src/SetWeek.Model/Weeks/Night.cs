using NodaTime;

namespace SetWeek.Model.Weeks;

/// <summary>A window in which work and shifts may be planned. Half-open: <paramref name="Closes"/> is not in it.</summary>
/// <param name="Id">Id of the night.</param>
/// <param name="Opens">Store-local start.</param>
/// <param name="Closes">Store-local end.</param>
public sealed record Night(string Id, LocalDateTime Opens, LocalDateTime Closes)
{
    /// <summary>Times within the night in which work with some trait is not allowed.</summary>
    public IReadOnlyList<Ban> Bans { get; init; } = [];
}

/// <summary>A half-open span that no stint of a task with the trait may overlap.</summary>
/// <param name="Trait">The trait, for example "noisy".</param>
/// <param name="From">Store-local start.</param>
/// <param name="To">Store-local end.</param>
public sealed record Ban(string Trait, LocalDateTime From, LocalDateTime To);
