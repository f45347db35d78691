using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Showings;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Showings;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Showings;

/// <summary>Only the store reads who was shown what. Head office hears in the feed how many people were shown it.</summary>
public sealed class ReadShowing : IQuery
{
    /// <param name="MustBeShown">Whether its work begins only when it was shown to those who do it.</param>
    /// <param name="Showing">The display, those who are planned on its work or were shown it, and who may show it.</param>
    public sealed record View(string Week, bool MustBeShown, SheetShowing Showing);

    public static Operation Operation => new("GET", "/weeks/{id}/displays/{display}/shown", "readShowing",
        "Reads to whom a display was shown, by whom and when, and who of those planned on its work has not seen it")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Replies =
        [
            new(200, "Who was shown it, as JSON or as a page (Accept: text/html)", typeof(View)) { HasETag = true },
            Reply.Page("The same as a page, with the form to sign or to record"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Week.Displays.All(display => display.Id != request["display"]))
            return Refused.Missing("display", request["display"]);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var view = new View(week.Id, week.MustBeShown.Contains(request["display"]),
            SheetShowing.Of(week, crew, request["display"], ShownDisplay.PeopleOf(week, request["display"])
                .OrderBy(person => crew.NameOf(person), StringComparer.Ordinal)));
        if (!request.WantsPage) return Answer.Ok(view).WithVersion(stream.Version);
        return (await request.Page<ShowingPage, ShowingPage.Content>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Tonight"), await session.ReaderOf(week.Id, request),
            week.Week.Store.TimeZone, week.Id, week.Direction, view.MustBeShown, view.Showing,
            [.. week.Week.Tasks.Where(task => task.Display == view.Showing.Display).SelectMany(task => task.Cautions).Distinct()],
            request.FormToken() is { } token ? new ShowingForm.Signing(
                token, request.PlanIds.Next(request.SystemTime), request.Caller.Person, request.Caller.Role == Role.Lead)
                : null)))
            .WithVersion(stream.Version);
    }
}
