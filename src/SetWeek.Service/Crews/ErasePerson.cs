using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Snags;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Crews;

public sealed class ErasePerson : ICommand
{
    public static Operation Operation => new("DELETE", "/weeks/{id}/crew/{person}", "erasePerson",
        "Erases the personal data of a crew member; the id stays in the events")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Replies = [new(204, "Name, rate, skills, age, hours and reasons of absence are erased, and the name in notes. "
            + "A repeated request is answered alike")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var person = request["person"];
        if (week.Erase(crew, person).TryPickT1(out var refusal, out var erased)) return Refused.For(refusal);

        if (erased.Count > 0) session.Store(crew.Without(person));
        session.QueueSqlCommand("delete from setweek.calendar where tenant_id = ? and week = ? and person = ?",
            request.Caller.Tenant, week.Id, person);
        var reasons = (await session.Events.FetchStreamAsync(stream.Id, token: request.Cancelled))
            .Where(e => e.Data is PersonAbsent absent && absent.Person == person)
            .Select(e => Note.IdOf(stream.Id, e.Version)).ToHashSet(StringComparer.Ordinal);
        var prefix = Note.IdOf(stream.Id, 0)[..^1];
        foreach (var note in await session.Query<Note>().Where(note => note.Id.StartsWith(prefix)).ToListAsync(request.Cancelled))
            if (reasons.Contains(note.Id)) session.Delete<Note>(note.Id);
            else if (NameRemoval.WithoutPerson(note.Text, crew, person) is var text && text != note.Text)
                session.Store(note with { Text = text });
        foreach (var start in (IEnumerable<string>)[ReasonNotes.PrefixOf(week.Id), .. SnagNotes.PrefixesOf(week.Id)])
            foreach (var note in await session.Query<Note>().Where(note => note.Id.StartsWith(start))
                .ToListAsync(request.Cancelled))
                if (NameRemoval.WithoutPerson(note.Text, crew, person) is var text && text != note.Text)
                    session.Store(note with { Text = text });
        // Candidates from before names were marked.
        foreach (var candidate in await session.Query<CandidatePlan>().Where(plan => plan.Week == week.Id)
            .ToListAsync(request.Cancelled))
            if (candidate.Plan is not null) session.Store(candidate.WithMarkedNames(crew));
        var after = erased.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!);
        var change = session.PlanChange(after, crew.Without(person), erased);
        return Answer.NoContent.WithVersion(stream.Append(session, change is null ? [.. erased] : [.. erased, change]));
    }
}
