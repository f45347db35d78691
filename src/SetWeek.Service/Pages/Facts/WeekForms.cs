using System.Text;
using System.Text.RegularExpressions;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Facts;

/// <summary>What the pages share on which facts and decisions of a week are put in.</summary>
/// <param name="Title">The direction and the store.</param>
/// <param name="State">The week with its pins, absences and arrivals.</param>
/// <param name="Week">The week as the planner reads it, with its crew.</param>
public sealed partial record WeekForms(string Title, StoreWeek State, CrewFile Crew, Week Week, Role Role)
{
    /// <summary>What the forms send along; null for a caller without a session: then no form is shown.</summary>
    public FormActs? Acts { get; init; }

    /// <summary>Who reads the page.</summary>
    public Frame.Reader? Reader { get; init; }

    /// <summary>The address of the week.</summary>
    public string Address => $"/weeks/{State.Id}";

    /// <summary>The page that lists all facts; the forms lead back to it.</summary>
    public string Facts => $"{Address}/facts";

    public WeekLabels Words { get; } = new(Week);

    /// <summary>Only the lead decides about people.</summary>
    public bool IsLead => Role == Role.Lead;

    public IReadOnlyList<Frame.Link> Links =>
        WeekLinks.Of(State.Id, State.Direction, Role, "What has changed");

    /// <summary>The nights as values of a choice.</summary>
    public IReadOnlyList<(string Value, string Text)> Nights =>
        [.. State.Week.Nights.Select(night => (night.Id, WeekLabels.Day(night.Opens)))];

    public IReadOnlyList<(string Value, string Text)> Tasks =>
        [.. State.Week.Tasks.Select(task => (task.Id, Words.TaskName(task.Id)))];

    /// <summary>The skills that work asks for or somebody has.</summary>
    public IReadOnlyList<string> Skills =>
    [
        .. State.Week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Concat(State.Week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? [])).Select(role => role.Skill)
            .Concat(Crew.Members.SelectMany(member => member.Skills.Keys)).Distinct().Order(StringComparer.Ordinal),
    ];

    /// <summary>
    /// The id of a thing that has no other name: "Step ladder (2 m)" as "step-ladder-2-m". Accents are left out, and letters of
    /// other scripts too.
    /// </summary>
    public static string IdOf(string? name) => Between().Replace(
        Accents().Replace((name ?? "").Normalize(NormalizationForm.FormKD), "").ToLowerInvariant(), "-").Trim('-');

    [GeneratedRegex(@"\p{M}")]
    private static partial Regex Accents();

    [GeneratedRegex("[^a-z0-9]+")]
    private static partial Regex Between();

    /// <summary>An id that is not used yet: "night-7".</summary>
    public static string FreeId(string kind, IEnumerable<string> used)
    {
        var known = used.ToHashSet(StringComparer.Ordinal);
        return Enumerable.Range(1, known.Count + 1).Select(number => $"{kind}-{number}").First(id => !known.Contains(id));
    }
}

/// <param name="Token">The anti-forgery token.</param>
/// <param name="IfMatch">The version of the week that the reader sees.</param>
/// <param name="Key">The idempotency key of the forms; another each time the page is loaded.</param>
public sealed record FormActs(string Token, string IfMatch, string Key);
