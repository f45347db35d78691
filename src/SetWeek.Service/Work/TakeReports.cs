using System.Text.Json;
using OneOf;
using SetWeek.Domain;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Work;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Closings;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;
using SetWeek.Service.Kits;
using SetWeek.Service.Openings;
using SetWeek.Service.Showings;
using SetWeek.Service.Snags;
using SetWeek.Service.WalkThroughs;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Work;

/// <summary>
/// Takes a phone's whole queue. Each report is answered by itself, in the order of the queue: one that is refused, or cannot be
/// read, does not hold up the others.
/// </summary>
public sealed class TakeReports : IReports
{
    private const int MostReports = 200;
    private const string Arrived = "arrived";

    /// <param name="Reports">Each has the fields of its own operation, its kind and, for an arrival, the kit.</param>
    public sealed record Body(IReadOnlyList<object> Reports);

    /// <param name="Answers">One for each report, in the same order.</param>
    public sealed record View(IReadOnlyList<ItemView> Answers);

    /// <param name="Id">The id of the report, as sent; null if it has none.</param>
    /// <param name="Status">The status that the report alone would have been answered with.</param>
    /// <param name="Missing">What keeps tasks from starting although the reported kit has arrived.</param>
    /// <param name="Stopped">The stop against which the reported work was started.</param>
    /// <param name="Snag">The number of the snag that the report raised.</param>
    /// <param name="Problem">Why the report was refused. The pointers of its errors lead into the whole body.</param>
    public sealed record ItemView(
        string? Id, int Status, KitCounts.Missing? Missing, StartedAgainstStop? Stopped, int? Snag, ProblemDetails? Problem);

    private sealed record Kind(string Name, Operation Operation, Func<JsonFields, Request, OneOf<FloorReport, Answer>> Read);

    /// <summary>The kinds of reports. Each is named by the last part of its own address.</summary>
    private static readonly IReadOnlyList<Kind> Kinds =
    [
        Of<StartWork>(), Of<ProgressWork>(), Of<PauseWork>(), Of<ResumeWork>(), Of<FinishWork>(), Of<BlockWork>(),
        Of<ReopenWork>(), Of<StopWork>(), Of<RetractReport>(), Of<TakeKitIn>(), Of<RaiseSnag>(), Of<FixSnag>(), Of<ReopenSnag>(),
        Of<HandOnSnag>(),
        Of<AcceptSnag>(), Of<RecordOpening>(), Of<RecordArrival>(), Of<RecordLeaving>(), Of<RecordClosing>(), Of<RecordLook>(),
        Of<RecordShowing>(),
    ];

    public static Operation Operation =>
        new("POST", "/weeks/{id}/reports", "takeReports", "Takes several reports at once; each is answered by itself")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"reports": [
              {"kind": "arrived", "kit": "forms", "id": "phone-3.17", "at": "2027-03-08T11:40:00+00:00",
               "lines": [{"item": "form", "received": 4}]},
              {"kind": "started", "id": "phone-3.18", "task": "wall.paint", "night": "monday",
               "at": "2027-03-08T21:50:00+00:00"}]}
            """)
        {
            Items = new("reports", Kinds.ToDictionary(kind => kind.Name, kind => kind.Operation)),
        },
        Replies = [new(200, "An answer for each report, in the same order; the ETag is the version after them", typeof(View))],
    };

    public static OneOf<ReportBatch, Answer> Read(Request request)
    {
        var items = new List<Item>();
        var envelope = request.Read(json =>
        {
            var list = json.Required("reports").List(cursor => ReadItem(cursor, request), MostReports, least: 1);
            items.AddRange(list);
            return list;
        });
        // Where the whole cannot be read, every fault is told at once, those of the items too.
        return envelope.Match<OneOf<ReportBatch, Answer>>(
            list => new ReportBatch([.. list.Select(item => item.Report)], answers =>
                request.IsForm && request.WantsPage && answers.Any(answer => answer.IsRefusal) ? Refusals(answers)
                    : Reply(list, answers)),
            faults => Refused.For(new FaultReport([.. faults.All, .. items.SelectMany(item => item.Faults)])));
    }

    private sealed record Item(string? Id, string? Kind, OneOf<FloorReport, Answer> Report)
    {
        public IReadOnlyList<Fault> Faults { get; init; } = [];
    }

    private static Item ReadItem(JsonCursor cursor, Request request)
    {
        var element = cursor.RawElement();
        var id = JsonText.Of(element, "id");
        var kind = Kinds.FirstOrDefault(known => known.Name == JsonText.Of(element, "kind"));
        if (kind is null && element.ValueKind == JsonValueKind.Object)
            return Faulty(new Fault($"{cursor.Pointer}/kind",
                "The kind of the report is missing or not known; give one of "
                    + $"{string.Join(", ", Kinds.Select(known => known.Name))}."));
        if (kind is not null && !request.Caller.HasRole(kind.Operation.MayUse))
            return new Item(id, kind.Name, Refused.OtherRole(kind.Operation.MayUse, request.Caller));
        return JsonCursor.Read(element, root => root.Object(json =>
        {
            json.Optional("kind");
            return kind?.Read(json, request) ?? default;
        })).Match(report => new Item(id, kind?.Name, report.MapT0(read => read with
        {
            AsksAbout = read.AsksAbout ?? JsonText.Of(element, FloorReport.CorrectsField),
        })), faults => Faulty(
            [.. faults.All.Select(fault => fault with { Pointer = cursor.Pointer + fault.Pointer })]));

        Item Faulty(params IReadOnlyList<Fault> faults) =>
            new(id, kind?.Name, Refused.For(new FaultReport(faults))) { Faults = faults };
    }

    private static Answer Reply(IReadOnlyList<Item> items, IReadOnlyList<Answer> answers) => Answer.Ok(new View(
        [.. items.Zip(answers, (item, answer) => new ItemView(item.Id, answer.Status,
            answer.Status == 200 && item.Kind == Arrived ? Content<KitCounts.Missing>(answer) : null,
            answer.Status == 200 && item.Kind != Arrived ? Content<StartedAgainstStop>(answer) : null,
            answer.Status == 201 ? Content<RaiseSnag.Raised>(answer)?.Snag : null,
            answer.IsRefusal ? Content<ProblemDetails>(answer) : null))]))
        with
        {
            ETag = answers.LastOrDefault(answer => answer.ETag is not null)?.ETag,
            // The ids of the reports make a repeat safe, and what was refused may be possible later.
            LeavesKeyFree = answers.Any(answer => answer.IsRefusal),
        };

    /// <summary>A browser follows an accepted form to the next page, so that a page tells what was not accepted.</summary>
    private static Answer Refusals(IReadOnlyList<Answer> answers)
    {
        var refused = answers.Where(answer => answer.IsRefusal).Select(answer => answer.Problem!).ToList();
        var others = refused.Count < answers.Count ? "; the others are" : "";
        return Refused.For(
            new Refusal(Refused.SomeRefused, $"{refused.Count} of {answers.Count} reports could not be recorded{others}.")
            {
                Because = [.. refused.Where(problem => problem.Errors is null).Select(problem => problem.Detail)],
            },
            [.. refused.SelectMany(problem => problem.Errors ?? [])]);
    }

    private static T? Content<T>(Answer answer) => JsonSerializer.Deserialize<T>(answer.Content.Span, JsonFormat.Options);

    private static Kind Of<T>() where T : IReport =>
        new(T.Operation.Path.Split('/')[^1], T.Operation, T.Read);
}
