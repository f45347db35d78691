using System.Text.Json.Serialization;

namespace SetWeek.Model.Weeks;

/// <summary>The goals of the planner: a closed list, so that every switch over it is checked by the compiler.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<GoalId>))]
public enum GoalId
{
    /// <summary>Value of the optional displays left out.</summary>
    [JsonStringEnumMemberName("leftOut")]
    LeftOut,

    /// <summary>Last-night work beyond its reserve, in person-minutes.</summary>
    [JsonStringEnumMemberName("reserve")]
    Reserve,

    /// <summary>Wages, in minor units of the currency.</summary>
    [JsonStringEnumMemberName("cost")]
    Cost,

    /// <summary>Elapsed minutes until all work has ended.</summary>
    [JsonStringEnumMemberName("finish")]
    Finish,

    /// <summary>Position of the last night with work.</summary>
    [JsonStringEnumMemberName("nights")]
    Nights,

    /// <summary>Number of person-nights.</summary>
    [JsonStringEnumMemberName("shifts")]
    Shifts,

    /// <summary>Moves of people between zones within a night.</summary>
    [JsonStringEnumMemberName("moves")]
    Moves,

    /// <summary>Largest difference in paid minutes between two people.</summary>
    [JsonStringEnumMemberName("uneven")]
    Uneven,

    /// <summary>Changes to the published plan.</summary>
    [JsonStringEnumMemberName("changes")]
    Changes,
}

/// <summary>The texts of <see cref="GoalId"/>.</summary>
public static class GoalIds
{
    /// <summary>Every goal, in the order in which pages list them.</summary>
    public static IReadOnlyList<GoalId> All { get; } = Enum.GetValues<GoalId>();

    /// <summary>The id as files, events and pages write it.</summary>
    public static string Text(this GoalId id) => id switch
    {
        GoalId.LeftOut => "leftOut",
        GoalId.Reserve => "reserve",
        GoalId.Cost => "cost",
        GoalId.Finish => "finish",
        GoalId.Nights => "nights",
        GoalId.Shifts => "shifts",
        GoalId.Moves => "moves",
        GoalId.Uneven => "uneven",
        GoalId.Changes => "changes",
    };

    /// <summary>The goal with this id, or null if there is none.</summary>
    public static GoalId? Parse(string text) => All.Cast<GoalId?>().FirstOrDefault(id => id!.Value.Text() == text);
}
