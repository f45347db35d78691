using NodaTime;

namespace SetWeek.Domain.Weeks.Events.Nights;

/// <summary>A report on who was in the store in a night, or on its opening or closing.</summary>
public interface INightReport : IFloorReport
{
    string Night { get; }
}

/// <summary>A lead opened a night: the people there were named, and what everybody must know was said aloud.</summary>
/// <param name="By">The id of the lead.</param>
/// <param name="Here">The ids of the people who were there.</param>
/// <param name="FirstAider">The id of the person who gives first aid in that night.</param>
/// <param name="Said">The ids of the items of the briefing that were said aloud.</param>
public sealed record NightOpened(
    string Report, string Night, OffsetDateTime At, string By, IReadOnlyList<string> Here, string FirstAider,
    IReadOnlyList<string> Said, ReportClock? Clock = null, string? Corrects = null) : INightReport;

/// <summary>Somebody came into the store after the night was opened, or came back.</summary>
public sealed record PersonCame(
    string Report, string Night, string Person, OffsetDateTime At, ReportClock? Clock = null, string? Corrects = null)
    : INightReport;

/// <summary>Somebody left the store. It says nothing about paid hours.</summary>
public sealed record PersonLeft(
    string Report, string Night, string Person, OffsetDateTime At, ReportClock? Clock = null, string? Corrects = null)
    : INightReport;

/// <summary>A lead closed a night. Reasons and decisions in words are notes.</summary>
/// <param name="By">The id of the lead, who answers for the decisions.</param>
/// <param name="Out">The ids of the people who were named as out of the store.</param>
/// <param name="Answers">The answers to the checks of closing.</param>
/// <param name="HalfSecured">What was decided about each task that leaves something half-secured.</param>
/// <param name="ShutZones">The ids of the zones that stay shut to customers in the morning.</param>
/// <param name="NotClean">The ids of the zones that were worked in and had no clean-down yet.</param>
public sealed record NightClosed(
    string Report, string Night, OffsetDateTime At, string By, IReadOnlyList<string> Out, IReadOnlyList<AnsweredCheck> Answers,
    IReadOnlyList<HalfSecuredWork> HalfSecured, IReadOnlyList<string> ShutZones, IReadOnlyList<string> NotClean,
    ReportClock? Clock = null, string? Corrects = null) : INightReport;

/// <param name="Task">The id of the task that would have secured it.</param>
public sealed record HalfSecuredWork(string Task, HalfSecuredDecision Decision);

/// <summary>TakenDown: nothing of it stands any more. ShutOff: it stands, and its zone stays shut until it is secured.</summary>
public enum HalfSecuredDecision { TakenDown, ShutOff }
