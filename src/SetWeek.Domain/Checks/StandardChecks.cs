using System.Text.Json;

namespace SetWeek.Domain.Checks;

/// <summary>
/// What is said at the opening of every night, checked at every closing and in every walk-through, and done at the door. It is
/// data with its sources: standard-checks.json beside this file. Local codes and the store's own rules come before it.
/// </summary>
/// <param name="LockUp">
/// What is done after the night is closed. Nobody answers it, because the last of it is done outside.
/// </param>
public sealed record StandardChecks(
    IReadOnlyList<StandardCheck> Briefing, IReadOnlyList<StandardCheck> Closing, IReadOnlyList<StandardCheck> LockUp,
    IReadOnlyList<StandardCheck> WalkThrough)
{
    public static StandardChecks All { get; } = Read();

    private static StandardChecks Read()
    {
        using var file = typeof(StandardChecks).Assembly.GetManifestResourceStream("standard-checks.json")!;
        return JsonSerializer.Deserialize<StandardChecks>(file, JsonSerializerOptions.Web)!;
    }
}

/// <summary>A check, or an item of a briefing, that every store has.</summary>
/// <param name="Source">Where it comes from; "common practice, no source" for a habit of the trade.</param>
public sealed record StandardCheck(string Id, string Sentence, string Source)
{
    /// <summary>Whether the night cannot be opened unless it was said, or closed unless it passed.</summary>
    public bool IsRequired { get; init; }

    /// <summary>Whether somebody could be hurt where it fails: the week is not handed over then.</summary>
    public bool IsSafety { get; init; }

    /// <summary>Whether it is for areas with a display alone.</summary>
    public bool IsDressed { get; init; }

    /// <summary>
    /// The figure that is measured must be at least this, unless the local code says otherwise; null: nothing is measured.
    /// </summary>
    public int? AtLeastMillimetres { get; init; }

    /// <summary>It is for nights in which work has one of these traits; empty: for every night.</summary>
    public IReadOnlyList<string> Traits { get; init; } = [];
}
