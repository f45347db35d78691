using Marten;
using SetWeek.Domain.Nights;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Printing.Drawing;
using SetWeek.Service.Printing.Layout;
using SetWeek.Service.Printing.Sheets;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Printing;

public sealed class ReadNightPaper : IQuery
{
    private const string Ending = ".pdf";

    public static Operation Operation => new("GET", "/weeks/{id}/nights/{night}/sheets/{sheet}", "readNightPaper",
        "Prints a sheet of a night of the published plan: lead.pdf, crew.pdf, painter.pdf, dresser.pdf, keyholder.pdf, "
            + "receiver.pdf or reviewer.pdf")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query =
        [
            new("person", "The id of a person of the crew, to whose work crew, painter or dresser is narrowed; without it, crew "
                + "has a sheet for each person of the night", "p1"),
            new("paper", "a4 or letter; a4 unless given", "a4"),
        ],
        Replies =
        [
            Reply.File("The sheet, without pay, ages, reasons and codes. What does not fit on one side goes on on further sides, "
                + "which are numbered", SheetPdf.ContentType) with { HasETag = true },
        ],
        Refusals = [422],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedNight.Of(request, session)).Match(night => Print(request, session, night), Task.FromResult);

    private static async Task<Answer> Print(Request request, IQuerySession session, LoadedNight night)
    {
        var name = request["sheet"];
        if (!name.EndsWith(Ending, StringComparison.Ordinal) || SheetKind.Find(name[..^Ending.Length]) is not { } kind)
            return Refused.With(404, $"There is no sheet {name}. The sheets are "
                + $"{string.Join(", ", SheetKind.All.Select(known => known.Id + Ending))}.");
        var person = request.Query("person");
        if (person is not null && !night.Week.Crew.Contains(person)) return Refused.Missing("person", person);
        if (person is not null && !kind.IsOfPerson)
            return Refused.With(422, $"The sheet {name} is the same for everybody. Leave out the person.", "not-of-a-person");
        if (PaperSize.All.FirstOrDefault(size => size.Id == (request.Query("paper") ?? PaperSize.A4.Id)) is not { } paper)
            return Refused.With(422, $"There is no paper {request.Query("paper")}. Ask for "
                + $"{string.Join(" or ", PaperSize.All.Select(size => size.Id))}.", "unknown-paper");

        var facts = NightFacts.Of(await session.TitleOf(night.Week, request.Cancelled), night.Week, night.Crew, night.Sheet,
            request.Caller.Role is Role.Lead or Role.Crew) with
        {
            Direction = await session.DirectionOf(night.Week, request.Cancelled),
        };
        var asked = person is null ? null : new SheetPerson(person, night.Crew.Find(person)?.Name ?? person);
        return new Answer(200)
        {
            Content = SheetPdf.Of($"{kind.Name}, {facts.Day}", request.Now, kind.Print(facts, asked), paper),
            ContentType = SheetPdf.ContentType,
            // Weak: the time of printing differs, and nothing else (RFC 9110, section 8.8.1).
            ETag = $"W/{new Answer(200).WithVersion(night.Stream.Version).ETag}",
        };
    }
}
