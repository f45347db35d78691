using System.Text.Json.Serialization;

namespace SetWeek.Model.Weeks;

/// <summary>The goals of the planner: a closed list, so that every switch over it is checked by the compiler.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<GoalId>))]
public enum GoalId
{
    /// <summary>Value of the optional displays left out.</summary>
    [JsonStringEnumMemberName("leftOut")]
    LeftOut,

    /// <summary>How far the chance that the plan holds falls short of the chance asked for, per mille.</summary>
    [JsonStringEnumMemberName("hold")]
    Hold,

    /// <summary>Last-night work beyond its reserve, in person-minutes.</summary>
    [JsonStringEnumMemberName("reserve")]
    Reserve,

    /// <summary>Trade of the zones that stand bare while the store is open, in minor units of the currency.</summary>
    [JsonStringEnumMemberName("bare")]
    Bare,

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

    /// <summary>People who leave a task between two of its stints in one night.</summary>
    [JsonStringEnumMemberName("handovers")]
    Handovers,

    /// <summary>Moves of people between zones within a night.</summary>
    [JsonStringEnumMemberName("moves")]
    Moves,

    /// <summary>Largest difference in paid minutes between two people.</summary>
    [JsonStringEnumMemberName("uneven")]
    Uneven,

    /// <summary>Changes to the published plan.</summary>
    [JsonStringEnumMemberName("changes")]
    Changes,

    /// <summary>Stints that a re-plan leaves in their night, at another time or with other people.</summary>
    [JsonStringEnumMemberName("shuffled")]
    Shuffled,
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
        GoalId.Hold => "hold",
        GoalId.Reserve => "reserve",
        GoalId.Bare => "bare",
        GoalId.Cost => "cost",
        GoalId.Finish => "finish",
        GoalId.Nights => "nights",
        GoalId.Shifts => "shifts",
        GoalId.Handovers => "handovers",
        GoalId.Moves => "moves",
        GoalId.Uneven => "uneven",
        GoalId.Changes => "changes",
        GoalId.Shuffled => "shuffled",
    };

    /// <summary>True if the goal compares a re-plan with the published plan, so that a first plan cannot have it.</summary>
    public static bool IsOfReplansOnly(this GoalId id) => id is GoalId.Changes or GoalId.Shuffled;

    /// <summary>The goal with this id, or null if there is none.</summary>
    public static GoalId? Parse(string text) => All.Cast<GoalId?>().FirstOrDefault(id => id!.Value.Text() == text);
}
