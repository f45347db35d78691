using NodaTime;

namespace SetWeek.Domain.Weeks.Events.Snags;

/// <summary>A report on a snag. What is wrong and why are notes.</summary>
public interface ISnagReport : IFloorReport
{
    /// <summary>The id of the report that raised the snag. That report may still be on its way.</summary>
    string Snag { get; }

    /// <summary>The id of the person who told the service.</summary>
    string By { get; }

    /// <summary>The ids of photographs; null for none.</summary>
    IReadOnlyList<string>? Photos { get; }
}

/// <summary>
/// A fault was found on standing or built work. It is in a zone, on a display or on a piece of the published plan.
/// </summary>
/// <param name="Number">The number of the snag in its week. A report that corrects another has that one's number.</param>
/// <param name="Piece">The number of a piece of the published plan.</param>
/// <param name="Area">The zone in which it lies, where that follows from the place as stated; null otherwise.</param>
/// <param name="Task">The task of the piece; null if the place is none.</param>
/// <param name="Due">The day by whose end it is to be put right.</param>
/// <param name="Safety">Whether somebody could be hurt by it.</param>
public sealed record SnagRaised(
    string Report, int Number, string? Zone, string? Display, int? Piece, string? Area, string? Task, SnagOwner Owner,
    LocalDate Due, bool Safety, string By, OffsetDateTime At, IReadOnlyList<string>? Photos = null,
    ReportClock? Clock = null, string? Corrects = null) : ISnagReport
{
    string ISnagReport.Snag => Report;
}

/// <summary>Who puts a snag right.</summary>
/// <param name="Person">The id of a person of the crew, if a person does.</param>
/// <param name="Trade">The trade, such as electrician, if a trade does.</param>
public sealed record SnagOwner(SnagOwnerKind Kind, string? Person = null, string? Trade = null);

/// <summary>The kinds of owners.</summary>
public enum SnagOwnerKind { Store, HeadOffice, Supplier, Trade, Person }
