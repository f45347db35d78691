using System.Globalization;
using Marten;
using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Questions;

namespace SetWeek.Service.Questions;

/// <summary>Makes the questions of a page: names in place of ids, times of the store, and what the reader may answer.</summary>
public static class ShownQuestions
{
    /// <param name="ofOneStore">Whether the page is of one store, which it need not name then.</param>
    /// <param name="then">The page to which an answer returns.</param>
    /// <param name="ofOthers">Whether the reader's own store has not asked: nobody is named then.</param>
    public static async Task<IReadOnlyList<AskedQuestion>> Of(IQuerySession session, Request request,
        IReadOnlyList<StoredQuestion> questions, string then, bool ofOneStore = false, bool ofOthers = false)
    {
        if (questions.Count == 0) return [];
        var views = await QuestionView.Of(session, questions, request.Cancelled);
        var weeks = questions.Select(question => question.Week).Distinct().ToArray();
        var crews = (ofOthers ? [] : await session.LoadManyAsync<CrewFile>(request.Cancelled, weeks))
            .ToDictionary(crew => crew.Id);
        var stores = ofOneStore ? new Dictionary<string, string>()
            : await StreamNames.OfStores(session, questions.Select(question => question.Store), request.Cancelled);
        var token = request.Caller.HasRole(AnswerQuestion.Operation.MayUse) && !ofOthers ? request.FormToken() : null;
        return [.. questions.Zip(views, (question, view) => Shown(question, view))];

        AskedQuestion Shown(StoredQuestion question, QuestionView view)
        {
            var zone = DateTimeZoneProviders.Tzdb[question.TimeZone ?? DateTimeZone.Utc.Id];
            var crew = crews.GetValueOrDefault(question.Week);
            return new AskedQuestion(AnchorOf(question), view.Text, AskedSentence(question, zone, crew))
            {
                Store = ofOneStore ? null
                    : new(stores.GetValueOrDefault(question.Store, question.Store),
                        ofOthers ? $"#{AnchorOf(question)}" : $"/weeks/{question.Week}/questions"),
                HoldsWorkUp = question.Asked.Block is not null,
                Alike = ofOneStore || question.IsAnswered || question.Display is null ? [] :
                [
                    .. questions.Where(other => other.Store != question.Store && !other.IsAnswered
                            && other.Direction == question.Direction && other.Display == question.Display)
                        .DistinctBy(other => other.Store)
                        .Select(other => new AskedQuestion.Named(
                            stores.GetValueOrDefault(other.Store, other.Store), $"#{AnchorOf(other)}")),
                ],
                Answer = view.Answer is null ? null : new(view.Answer.Text, AnsweredSentence(question, zone, crew)),
                Act = token is null || !MayAnswer(question) ? null : new(
                    $"/weeks/{question.Week}/questions/{question.Asked.Question}/answer", token, then,
                    ofOneStore ? "Answer" : $"Answer {stores.GetValueOrDefault(question.Store, question.Store)}",
                    request.Caller.Role == Role.HeadOffice ? "Answer for every store" : null,
                    request.Caller.Role == Role.HeadOffice && question is { IsAnswered: false, Asked.For: Addressee.HeadOffice }
                        ? ofOneStore ? "Allow it" : $"Allow it in {stores.GetValueOrDefault(question.Store, question.Store)}"
                            : null),
            };
        }

        bool MayAnswer(StoredQuestion question) =>
            request.Caller.Role == Role.HeadOffice || question.Asked.For == Addressee.Lead;
    }

    private static string AnchorOf(StoredQuestion question) => $"q-{question.Week}-{question.Asked.Question}";

    private static string AskedSentence(StoredQuestion question, DateTimeZone zone, CrewFile? crew)
    {
        var by = question.Asked.By is { } person && crew is not null ? $", by {crew.Find(person)?.Name ?? person}" : "";
        var about = question.About is { } name ? $", about {name}" : "";
        var to = question.Asked.For == Addressee.Lead ? "the lead" : "head office";
        return $"Asked of {to}, {At(question.Asked.At.ToInstant(), zone)}{by}{about}.";
    }

    private static string AnsweredSentence(StoredQuestion question, DateTimeZone zone, CrewFile? crew)
    {
        var from = (question.Answer?.From, question.Answer?.By) switch
        {
            (null, _) => "",
            (Addressee.Lead, { } by) when crew is not null => $" by {crew.Find(by)?.Name ?? $"the lead ({by})"}",
            (Addressee.Lead, _) => " by the lead",
            (_, { } by) when crew is not null => $" by head office ({by})",
            _ => " by head office",
        };
        var at = question.Answer?.At is { } time ? $" {At(time, zone)}" : "";
        return $"Answered{at}{from}{(question.ToAll ? ", for every store" : "")}.";
    }

    private static string At(Instant time, DateTimeZone zone) =>
        time.InZone(zone).LocalDateTime.ToString("dddd d MMMM, HH:mm", CultureInfo.InvariantCulture);
}
