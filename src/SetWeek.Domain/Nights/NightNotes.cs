using System.Collections.Immutable;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Nights;

/// <summary>What the page of the week says of a night of the published plan beside its times.</summary>
/// <param name="Pieces">By piece of the plan.</param>
/// <param name="ChangedShifts">The people whose shift is another than in the issue before.</param>
/// <param name="HomeBy">By person: the latest time at which they can leave, if it is before the night closes.</param>
/// <param name="HasMargins">Whether latest starts are known.</param>
public sealed record NightNotes(
    IReadOnlyDictionary<WorkKey, PieceNote> Pieces, IReadOnlySet<string> ChangedShifts,
    IReadOnlyDictionary<string, OffsetDateTime> HomeBy, bool HasMargins)
{
    /// <summary>A piece that can start at most this much later than planned has no room.</summary>
    public static readonly Duration Tight = Duration.FromMinutes(5);

    public static NightNotes None { get; } = new(ImmutableDictionary<WorkKey, PieceNote>.Empty, ImmutableHashSet<string>.Empty,
        ImmutableDictionary<string, OffsetDateTime>.Empty, HasMargins: false);

    /// <param name="week">A week whose plan is published.</param>
    /// <param name="night">A night of that plan.</param>
    /// <param name="margins">Null: not computed.</param>
    /// <param name="before">The plan of the issue before; null if there is none.</param>
    public static NightNotes Of(StoreWeek week, PlannedNight night, NightMargins? margins, Plan? before)
    {
        var numbers = week.Published!.Pieces.Pieces.Where(piece => piece.Night == night.Night)
            .DistinctBy(piece => piece.Work).ToDictionary(piece => piece.Work, piece => piece.Number);
        var was = before?.Nights.FirstOrDefault(other => other.Night == night.Night);
        var workWas = (was?.Work ?? []).DistinctBy(work => PieceNumbering.KeyOf(work, night.Night))
            .ToDictionary(work => PieceNumbering.KeyOf(work, night.Night));
        var shiftWas = (was?.Shifts ?? []).DistinctBy(shift => shift.Person).ToDictionary(shift => shift.Person);
        return new NightNotes(
            night.Work.DistinctBy(work => PieceNumbering.KeyOf(work, night.Night)).ToDictionary(
                work => PieceNumbering.KeyOf(work, night.Night), NoteOf),
            before is null ? ImmutableHashSet<string>.Empty
                : [.. night.Shifts.Where(shift => !shift.Equals(shiftWas.GetValueOrDefault(shift.Person)))
                    .Select(shift => shift.Person)],
            margins?.HomeBy ?? None.HomeBy, margins is not null);

        PieceNote NoteOf(PlannedWork work)
        {
            var key = PieceNumbering.KeyOf(work, night.Night);
            var margin = margins?.Pieces.GetValueOrDefault(key);
            var latest = SheetPieces.HasBegun(week.ReportedWork.StatusOf(key)) ? null : margin?.LatestStart;
            return new PieceNote(numbers.TryGetValue(key, out var number) ? number : null, latest,
                latest is { } start && start.ToInstant() - work.From.ToInstant() <= Tight,
                [.. (margin?.Frees ?? []).Where(numbers.ContainsKey).Select(freed => numbers[freed]).Order()],
                before is not null && !IsSame(work, workWas.GetValueOrDefault(key)));
        }
    }

    private static bool IsSame(PlannedWork now, PlannedWork? was) =>
        was is not null && now.From.ToInstant() == was.From.ToInstant() && now.To.ToInstant() == was.To.ToInstant()
        && now.People.Select(person => person.Person).ToHashSet().SetEquals(was.People.Select(person => person.Person));
}

/// <summary>What is said of a piece beside its times.</summary>
/// <param name="Number">Null for a piece that has none.</param>
/// <param name="LatestStart">The latest start with which the night still holds; null if it is not known, or has begun.</param>
/// <param name="IsTight">Whether the latest start is at most five minutes after the planned one.</param>
/// <param name="Frees">The numbers of the pieces of the night that can begin once it is done.</param>
/// <param name="IsChanged">Whether its night, times or people are others than in the issue before.</param>
public sealed record PieceNote(
    int? Number, OffsetDateTime? LatestStart, bool IsTight, IReadOnlyList<int> Frees, bool IsChanged);
