using System.Text.Json;
using System.Text.Json.Nodes;
using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Facts;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Trials;

namespace SetWeek.Service.Trials;

public sealed class ReadWhatIf : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/what-if", "readWhatIf",
        "The page on which changes to try are picked; nothing is stored")
    {
        MayUse = FactPages.MayUse,
        Query =
        [
            new("was", "The changes picked so far, as a JSON list", "[]"),
            new("kind", "The kind of a change to add; its other fields are parameters of their names", "leaveOut"),
        ],
        Replies = [Reply.Page("The page; programs send their changes to the POST of this address")],
        Refusals = [406],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await FactPages.Read(request, session)).Match(loaded =>
        {
            var week = PlanningProblem.WeekOf(loaded.Forms.State, loaded.Forms.Crew);
            var kinds = ChangeKinds.Of(week);
            var picked = ListOf(request.Query("was"));
            IReadOnlyList<string> faults = [];
            if (kinds.FirstOrDefault(kind => kind.Kind == request.Query("kind")) is { } kind)
            {
                var wanted = Json([.. picked, ChangeKinds.Read(kind, request.Query)]);
                faults = Faults(wanted, week);
                if (faults.Count == 0) picked = ListOf(wanted);
            }
            // The week may have changed since the list was picked.
            var isListRefused = false;
            if (faults.Count == 0 && picked.Count > 0 && Faults(Json(picked), week) is { Count: > 0 } old)
                (isListRefused, faults, picked) = (true, old, []);
            return request.Page<WhatIfPage, WhatIfPage.Draft>(new(loaded.Forms, kinds, Json(picked),
                [.. Sentences(Json(picked), week).Select((sentence, index) => new WhatIfPage.Picked(
                    sentence, Json([.. picked.Where((_, other) => other != index)])))], faults)
            {
                IsListRefused = isListRefused,
            });
        }, Task.FromResult);

    /// <summary>The changes in words.</summary>
    public static IReadOnlyList<string> Sentences(string changes, Week week) =>
        JsonCursor.Read(System.Text.Encoding.UTF8.GetBytes(changes), Trial.Read).Match(
            trial => (IReadOnlyList<string>)[.. trial.Sentences(week)], _ => []);

    private static IReadOnlyList<string> Faults(string changes, Week week) =>
        JsonCursor.Read(System.Text.Encoding.UTF8.GetBytes(changes), Trial.Read).Match(
            trial => trial.ApplyTo(week, null).Match(_ => [], Details), Details);

    private static IReadOnlyList<string> Details(FaultReport faults) => [.. faults.All.Select(fault => fault.Detail).Distinct()];

    private static IReadOnlyList<JsonNode> ListOf(string? text)
    {
        try
        {
            return text is not null && JsonNode.Parse(text) is JsonArray list
                ? [.. list.OfType<JsonObject>().Select(change => change.DeepClone())] : [];
        }
        catch (JsonException)
        {
            return [];
        }
    }

    private static string Json(IReadOnlyList<JsonNode> changes) =>
        new JsonArray([.. changes.Select(change => change.DeepClone())]).ToJsonString();
}
