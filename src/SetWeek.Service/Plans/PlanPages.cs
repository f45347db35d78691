using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Memos;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Plans;

/// <summary>The pages of a plan: each state of it has one.</summary>
internal static class PlanPages
{
    /// <summary>How long a page waits for latest starts that are not known yet. A night's own sheet always has them.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(600);

    private const int MostSince = 12;

    /// <summary>The published plan.</summary>
    /// <param name="input">The week as the planner reads it now.</param>
    /// <param name="plan">The published plan, with the slack that it has now.</param>
    public static async Task<Answer> Published(
        Request request, IQuerySession session, FoldedStream<StoreWeek> stream, PlannerInput input, Plan plan)
    {
        var (week, published) = (stream.State!, stream.State!.Published!);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var candidate = await session.FindCandidate(week.Id, published.PlanId, request.Cancelled);
        var shown = ShownNights.Of(input.Week, plan.Nights, request.Query("night"), StoreTime.Local(week, request.Now));
        var margins = await session.CheapMarginsOf(
            stream, [.. shown.InFull.Select(night => night.Night)], crew, Patience, request.Cancelled);
        var address = $"/weeks/{week.Id}/plan";
        var latest = await session.LatestCandidate(week.Id, request.Cancelled);
        return await request.Page<WeekPage, WeekPage.Sheet>(new(await session.TitleOf(week, request.Cancelled), input.Week, plan,
            "published", request.Caller.MaySeeParticulars)
        {
            Links = LinksOf(request, week),
            Reader = await session.ReaderOf(week.Id, request),
            Memos = await session.ShownMemosOf(week, crew, request, address),
            Shown = shown,
            Notes = shown.InFull.ToDictionary(night => night.Night, night =>
                NightNotes.Of(week, night, margins.GetValueOrDefault(night.Night), candidate?.Replaces)),
            Issue = IssueSentences.Of(published.Issue, published.Earlier is [.., var before] ? before : null,
                new WeekLabels(input.Week).Person, StoreTime.ZoneOf(week)),
            Told = request.Caller.Role == Role.Crew ? null : $"/weeks/{week.Id}/told",
            Broken = published.Broken is { } broken ? NameRemoval.WithNames(broken.Sentence, crew) : null,
            Acts = PlanAnswer.ActsFor(request, week.Id, stream.Version, null),
            SheetOf = night => $"/weeks/{week.Id}/nights/{night}/sheet",
            Address = WhyAnswer.AddressFor(request, address),
            Elsewhere =
            [
                new("The week as a wall chart (SVG, A3)", $"{address}/wall-chart"),
                new("The wall chart to print (PDF, A3)", $"{address}/wall-chart.pdf"),
                new("The plan as a workbook (.xlsx)", $"/weeks/{week.Id}/plan.xlsx"),
                new("The plan as a table (.csv)", $"/weeks/{week.Id}/plan.csv"),
                new("The hours of each person", $"/weeks/{week.Id}/hours"),
                .. request.Caller.Role == Role.Lead
                    ? (Frame.Link[])[new("Calendars of the crew, one address for each person", $"/weeks/{week.Id}/crew")] : [],
            ],
            Chance = candidate?.Chance,
            Latest = latest is null || RequestOf(latest) == RequestOf(published.PlanId) ? null
                : PlanAnswer.AddressOf(week.Id, RequestOf(latest)),
        });
    }

    /// <summary>The request that a plan comes from: a further option has its id and a word after a dot.</summary>
    private static string RequestOf(string plan) => plan.Split('.')[0];

    /// <summary>A week of which no plan is published.</summary>
    public static async Task<Answer> Empty(Request request, IQuerySession session, FoldedStream<StoreWeek> stream)
    {
        var week = stream.State!;
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var latest = await session.LatestCandidate(week.Id, request.Cancelled);
        return await request.Page<EmptyWeekPage, EmptyWeekPage.Empty>(
            new(await session.TitleOf(week, request.Cancelled), PlanningProblem.WeekOf(week, crew))
            {
                Links = LinksOf(request, week),
                Reader = await session.ReaderOf(week.Id, request),
                Latest = latest is null ? null : PlanAnswer.AddressOf(week.Id, RequestOf(latest)),
                Acts = PlanAnswer.ActsFor(request, week.Id, stream.Version, null),
                Absent = [.. week.Absences.OrderBy(absence => absence.Night, StringComparer.Ordinal)
                    .ThenBy(absence => absence.Person, StringComparer.Ordinal)],
            });
    }

    /// <summary>A request, in whatever state it is.</summary>
    /// <param name="candidate">The request as of now, with names.</param>
    public static async Task<Answer> Requested(
        Request request, IQuerySession session, FoldedStream<StoreWeek> stream, CandidatePlan candidate)
    {
        var week = stream.State!;
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var title = await session.TitleOf(week, request.Cancelled);
        var input = PlanningProblem.Of(week, crew, candidate.Now);
        var published = week.Published?.PlanId == candidate.Id;
        if (!candidate.Settled) return await Search(request, session, stream, title, candidate);
        if (candidate is not { Plan: { Nights.Count: > 0 } plan } || candidate.State is CandidateState.Failed)
            return await request.Page<NoPlanPage, NoPlanPage.Outcome>(new(title, input.Week, candidate,
                request.Caller.MaySeeParticulars)
            {
                Links = LinksOf(request, week),
                Reader = await session.ReaderOf(week.Id, request),
                Acts = PlanAnswer.ActsFor(request, week.Id, stream.Version, null) is { } acts ? acts with
                {
                    // A repair is proven for the week of the request alone.
                    Accept = await session.InputHash(stream, request.Cancelled) == candidate.InputHash
                        ? number => $"{PlanAnswer.AddressOf(week.Id, candidate.Id)}/repairs/{number}/accept" : null,
                } : null,
            });
        return await request.Page<WeekPage, WeekPage.Sheet>(new(title, input.Week, plan,
            PlanAnswer.StateText(candidate, published), request.Caller.MaySeeParticulars)
        {
            Links = LinksOf(request, week),
            Reader = await session.ReaderOf(week.Id, request),
            Shown = ShownNights.Of(input.Week, plan.Nights, request.Query("night"), candidate.Now),
            Since = candidate.State != CandidateState.Overtaken ? []
                : await SinceOf(session, week, crew, candidate.WeekVersion, request.Cancelled),
            Candidate = candidate,
            AddressOf = other => PlanAnswer.AddressOf(week.Id, other),
            Address = WhyAnswer.AddressFor(request, PlanAnswer.AddressOf(week.Id, candidate.Id)),
            Chance = candidate.Chance,
            Acts = PlanAnswer.ActsFor(request, week.Id, stream.Version,
                candidate.State == CandidateState.Ready && !published ? candidate.Id : null),
        });
    }

    private static async Task<Answer> Search(
        Request request, IQuerySession session, FoldedStream<StoreWeek> stream, string title, CandidatePlan candidate)
    {
        var week = stream.State!;
        var best = await session.BestSoFarOf(candidate.Id, request.Cancelled);
        return await request.Page<PlanSearchPage, PlanSearchPage.Search>(new(title, week.Week,
            PlanAnswer.AddressOf(week.Id, candidate.Id), candidate,
            ProgressSentences.Of(candidate.State, best?.AfterMilliseconds, best is { IsEnding: true }), best?.Goals ?? [],
            request.Caller.MaySeeParticulars)
        {
            // No script adds the button, so it stands there before a plan is found. Until then it is refused, with the reason.
            Acts = best is { IsEnding: true } ? null : PlanAnswer.ActsFor(request, week.Id, stream.Version, null),
            Links = LinksOf(request, week),
            Reader = await session.ReaderOf(week.Id, request),
        });
    }

    private static async Task<IReadOnlyList<string>> SinceOf(
        IQuerySession session, StoreWeek week, CrewFile crew, long version, CancellationToken cancelled)
    {
        string[] all = [.. (await session.EventsSince(week, version, cancelled)).Select(e => EventSentences.Of(week, crew, e))];
        return all.Length <= MostSince ? all : [$"{all.Length - MostSince} things before these.", .. all[^MostSince..]];
    }

    private static IReadOnlyList<Frame.Link> LinksOf(Request request, StoreWeek week) =>
        WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Week");
}
