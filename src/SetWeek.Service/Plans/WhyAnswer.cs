using System.Globalization;
using Marten;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Search;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Plans;

/// <summary>Explains why a stint of a plan is not earlier and who else could do it, as JSON or as a page.</summary>
public static class WhyAnswer
{
    private const string Json = "application/json", Page = "text/html";
    private static readonly SearchLimits TimeLimit = new() { Time = TimeSpan.FromSeconds(1.5), Workers = 1 };

    /// <summary>The explanation shows when people are available and what they cost.</summary>
    public static Permission MayUse { get; } = new(AccessScope.Week, Role.Lead, Role.HeadOffice);

    public static QueryParameter Stint { get; } = new("stint", "The part of the task, counted from 1; default: 1", "1",
        typeof(int));

    public static IReadOnlyList<Reply> Replies { get; } =
    [
        new(200, "The explanation, as JSON or as a page (Accept: text/html); it marks what could not be proven in the time limit",
            typeof(Why)),
        Reply.Page("The same as a page"),
    ];

    /// <summary>The address of the plan if the caller may ask for explanations, otherwise null.</summary>
    public static string? AddressFor(Request request, string address) => request.Caller.HasRole(MayUse) ? address : null;

    public static async Task<Answer> Of(Request request, IQuerySession session, LoadedPlan loaded)
    {
        var (problem, plan) = (loaded.Problem, loaded.Plan);
        if (problem.Week.Tasks.FirstOrDefault(task => task.Id == request["task"]) is not { } task)
            return Refused.Missing("task", request["task"]);
        if (StintOf(request.Query("stint"), task.Stints) is not { } stint)
            return Refused.With(400, task.Stints == 1 ? $"“{task.Name}” has 1 part; stint must be 1."
                : $"stint needs a whole number from 1 to {task.Stints}.", "no-stint");
        var format = request.PreferredType(Json, Page);
        if (format is null) return Refused.With(406, "This is available as application/json or text/html.");

        var result = await request.Admission.Admit(
            request.Caller.Tenant, stop => Why.Of(problem, plan, task.Id, stint, TimeLimit, stop), request.Cancelled);
        return await result.Match(async why => why is null
                ? Refused.With(409,
                    $"The plan does not contain “{task.Name}”: its display is left out or replaced.", "not-planned")
            : format == Page ? await WhyPages.Of(request, session, loaded, why)
            : Answer.Ok(why), Task.FromResult);
    }

    private static int? StintOf(string? given, int max) => given is null ? 1
        : int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out var stint) && stint >= 1 && stint <= max
            ? stint : null;
}
