using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.WalkThroughs;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.WalkThroughs;

/// <summary>Reads the walk-through of a week for a caller.</summary>
internal static class WalkReads
{
    /// <summary>Who looked, and reasons in words, are for the store alone: others get neither.</summary>
    public static async Task<WalkThrough> WalkThroughOf(
        this Request request, IQuerySession session, StoreWeek week, CrewFile crew)
    {
        var walk = WalkThrough.Of(week, crew);
        if (request.Caller.Role is not (Role.Lead or Role.Crew))
            return Map(walk, area => area with { By = [] }, (_, answer) => answer with { By = [] });
        var ids = walk.Areas.SelectMany(area => area.Checks).Where(check => check.Answer is not null)
            .Select(check => ReasonNotes.ReasonIdOf(week.Id, check.Answer!.Report, check.Check.Id)).ToArray();
        var notes = (await session.LoadManyAsync<Note>(request.Cancelled, ids)).ToDictionary(note => note.Id, note => note.Text);
        return Map(walk, area => area, (check, answer) => answer with
        {
            Why = notes.GetValueOrDefault(ReasonNotes.ReasonIdOf(week.Id, answer.Report, check.Id)),
        });
    }

    private static WalkThrough Map(
        WalkThrough walk, Func<WalkArea, WalkArea> area, Func<AreaCheck, WalkAnswer, WalkAnswer> answer) => walk with
    {
        Areas = [.. walk.Areas.Select(known => area(known) with
        {
            Checks = [.. known.Checks.Select(check => check.Answer is { } given
                ? check with { Answer = answer(check.Check, given) } : check)],
        })],
    };
}
