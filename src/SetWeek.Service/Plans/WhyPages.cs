using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Revisions;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Plans;

/// <summary>The page that explains a piece of a plan, with what holds it in place.</summary>
internal static class WhyPages
{
    public static async Task<Answer> Of(Request request, IQuerySession session, LoadedPlan loaded, Why why)
    {
        var (stream, week) = (loaded.Stream, loaded.Stream.State!);
        var words = new WeekLabels(loaded.Problem.Week);
        var work = loaded.Plan.Nights.Where(night => night.Night == why.Night).SelectMany(night => night.Work)
            .FirstOrDefault(work => work.Task == why.Task && (work.Stint ?? 1) == why.Stint);
        var note = loaded.IsPublished ? await NoteOf(request, session, loaded, why) : null;
        return await request.Page<WhyPage, WhyPage.Explanation>(
            new(loaded.Title, loaded.Problem.Week, why)
            {
                Links = WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Week"),
                Reader = await session.ReaderOf(week.Id, request),
                Piece = note?.Number is not { } number ? null : $"No. {number}, in the night of {words.NightName(why.Night)}"
                    + (work is { People.Count: > 0 }
                        ? $", by {WeekLabels.Join([.. work.People.Select(person => words.Person(person.Person))])}." : "."),
                Frees = note is null ? [] : [.. Frees(week, words, note)],
                Hold = request.Caller.HasRole(AddPin.Operation.MayUse) && request.FormToken() is { } token
                    ? new WhyPage.HoldActs($"/weeks/{week.Id}/pins", token, $"\"{stream.Version}\"",
                        $"{loaded.Address}/why/{why.Task}?stint={why.Stint}", $"/weeks/{week.Id}/what-if",
                        [.. (work?.People ?? []).Select(person => person.Person)],
                        [.. week.Pins.Where(pin => pin.Pin is StintPin held && held.Task == why.Task
                                && (held.Stint ?? why.Stint) == why.Stint)
                            .Select(pin => (pin.Id, new PinSentences(loaded.Problem.Week).Of(pin.Pin)))])
                    : null,
            });
    }

    private static async Task<PieceNote?> NoteOf(Request request, IQuerySession session, LoadedPlan loaded, Why why)
    {
        var week = loaded.Stream.State!;
        if (week.Week.Nights.All(night => night.Id != why.Night)) return null;
        var margins = await session.MarginsOf(
            loaded.Stream, why.Night, await session.CrewOf(week.Id, request.Cancelled), request.Cancelled);
        return week.Published!.Plan.Nights.FirstOrDefault(night => night.Night == why.Night) is { } planned
            ? NightNotes.Of(week, planned, margins, null).Pieces.GetValueOrDefault(new WorkKey(why.Task, why.Stint)) : null;
    }

    private static IEnumerable<string> Frees(StoreWeek week, WeekLabels words, PieceNote note)
    {
        if (note.LatestStart is { } latest)
            yield return $"It may start as late as {WeekLabels.Time(latest.LocalDateTime)}, and the night still holds.";
        foreach (var number in note.Frees)
            if (week.Published!.Pieces.Pieces.FirstOrDefault(piece => piece.Number == number) is { } freed)
                yield return $"Once it is done, {number} can begin: "
                    + $"{words.Work(new PlannedWork { Task = freed.Task, Stint = freed.Stint, CleanDown = freed.CleanDown,
                        From = default, To = default })}.";
        if (note.Frees.Count == 0) yield return "No piece of the same night waits for it.";
    }
}
