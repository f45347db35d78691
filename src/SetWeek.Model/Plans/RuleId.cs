using System.Text.Json.Serialization;

namespace SetWeek.Model.Plans;

/// <summary>The rules of the planner: a closed list, so that every switch over it is checked by the compiler.</summary>
[JsonConverter(typeof(JsonStringEnumConverter<RuleId>))]
public enum RuleId
{
    /// <summary>Times are multiples of the grid.</summary>
    [JsonStringEnumMemberName("grid")]
    Grid,

    /// <summary>A display is built completely or not at all.</summary>
    [JsonStringEnumMemberName("whole")]
    Whole,

    /// <summary>Work and shifts lie inside their night.</summary>
    [JsonStringEnumMemberName("window")]
    Window,

    /// <summary>No work with a banned trait overlaps the ban.</summary>
    [JsonStringEnumMemberName("ban")]
    Ban,

    /// <summary>A task starts after the tasks that precede it.</summary>
    [JsonStringEnumMemberName("after")]
    After,

    /// <summary>As <see cref="After"/>, with a minimum lag for drying.</summary>
    [JsonStringEnumMemberName("drying")]
    Drying,

    /// <summary>As <see cref="After"/>, in the night in which the predecessor ends.</summary>
    [JsonStringEnumMemberName("same-night")]
    SameNight,

    /// <summary>A task starts after its kits have arrived.</summary>
    [JsonStringEnumMemberName("kit")]
    Kit,

    /// <summary>Work under way uses no more equipment than there is.</summary>
    [JsonStringEnumMemberName("equipment")]
    Equipment,

    /// <summary>Each role has its people, with the skill and the level.</summary>
    [JsonStringEnumMemberName("skill")]
    Skill,

    /// <summary>A person does one thing at a time.</summary>
    [JsonStringEnumMemberName("one-place")]
    OnePlace,

    /// <summary>No more people work in a zone than it holds.</summary>
    [JsonStringEnumMemberName("zone-room")]
    ZoneRoom,

    /// <summary>A zone stays closed after work that closes it.</summary>
    [JsonStringEnumMemberName("zone-closed")]
    ZoneClosed,

    /// <summary>A zone worked in is cleaned down that night.</summary>
    [JsonStringEnumMemberName("clean-down")]
    CleanDown,

    /// <summary>The last task starts after all other work.</summary>
    [JsonStringEnumMemberName("last")]
    Last,

    /// <summary>A task ends by its due night.</summary>
    [JsonStringEnumMemberName("due")]
    Due,

    /// <summary>All work ends by launch.</summary>
    [JsonStringEnumMemberName("launch")]
    Launch,

    /// <summary>Shifts lie in a person's availability.</summary>
    [JsonStringEnumMemberName("availability")]
    Availability,

    /// <summary>Work lies in its people's shifts, outside breaks.</summary>
    [JsonStringEnumMemberName("on-shift")]
    OnShift,

    /// <summary>Shifts are neither too short nor too long.</summary>
    [JsonStringEnumMemberName("shift-length")]
    ShiftLength,

    /// <summary>Long shifts have a break.</summary>
    [JsonStringEnumMemberName("break")]
    Break,

    /// <summary>Nobody starts work within the first minutes of their shift.</summary>
    [JsonStringEnumMemberName("briefing")]
    Briefing,

    /// <summary>Work with certain traits has other people at work in its zone.</summary>
    [JsonStringEnumMemberName("company")]
    Company,

    /// <summary>The plan agrees with what somebody has fixed.</summary>
    [JsonStringEnumMemberName("pin")]
    Pin,

    /// <summary>People rest between shifts.</summary>
    [JsonStringEnumMemberName("rest")]
    Rest,

    /// <summary>Under-18s end early and do no barred work.</summary>
    [JsonStringEnumMemberName("young-worker")]
    YoungWorker,

    /// <summary>Each night with shifts has a keyholder whose shift spans all the others.</summary>
    [JsonStringEnumMemberName("keyholder")]
    Keyholder,

    /// <summary>The keyholder opens before work and closes after it.</summary>
    [JsonStringEnumMemberName("open-close")]
    OpenClose,

    /// <summary>Whenever anyone is on shift, at least the minimum number of people are.</summary>
    [JsonStringEnumMemberName("two-person")]
    TwoPerson,

    /// <summary>A re-plan leaves the past as it was.</summary>
    [JsonStringEnumMemberName("frozen")]
    Frozen,
}

/// <summary>The texts of <see cref="RuleId"/>.</summary>
public static class RuleIds
{
    /// <summary>Every rule, in the order in which pages list them.</summary>
    public static IReadOnlyList<RuleId> All { get; } = Enum.GetValues<RuleId>();

    /// <summary>The id as files, events and pages write it.</summary>
    public static string Text(this RuleId id) => id switch
    {
        RuleId.Grid => "grid",
        RuleId.Whole => "whole",
        RuleId.Window => "window",
        RuleId.Ban => "ban",
        RuleId.After => "after",
        RuleId.Drying => "drying",
        RuleId.SameNight => "same-night",
        RuleId.Kit => "kit",
        RuleId.Equipment => "equipment",
        RuleId.Skill => "skill",
        RuleId.OnePlace => "one-place",
        RuleId.ZoneRoom => "zone-room",
        RuleId.ZoneClosed => "zone-closed",
        RuleId.CleanDown => "clean-down",
        RuleId.Last => "last",
        RuleId.Due => "due",
        RuleId.Launch => "launch",
        RuleId.Availability => "availability",
        RuleId.OnShift => "on-shift",
        RuleId.ShiftLength => "shift-length",
        RuleId.Break => "break",
        RuleId.Briefing => "briefing",
        RuleId.Company => "company",
        RuleId.Pin => "pin",
        RuleId.Rest => "rest",
        RuleId.YoungWorker => "young-worker",
        RuleId.Keyholder => "keyholder",
        RuleId.OpenClose => "open-close",
        RuleId.TwoPerson => "two-person",
        RuleId.Frozen => "frozen",
    };

    /// <summary>The rule with this id, or null if there is none.</summary>
    public static RuleId? Parse(string text) => All.Cast<RuleId?>().FirstOrDefault(id => id!.Value.Text() == text);
}
