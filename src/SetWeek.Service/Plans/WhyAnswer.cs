using System.Globalization;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Search;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;

namespace SetWeek.Service.Plans;

/// <summary>Why a stint of a plan is where it is, as JSON or as a page.</summary>
public static class WhyAnswer
{
    private const string Json = "application/json", Page = "text/html";
    private static readonly SearchLimits TimeLimit = new() { Time = TimeSpan.FromSeconds(1.5), Workers = 1 };

    /// <summary>It says when people can come and what they cost.</summary>
    public static Permission MayUse { get; } = new(AccessScope.Week, Role.Lead, Role.HeadOffice);

    public static QueryParameter Stint { get; } = new("stint", "Which part of the task, from 1; 1 unless given", "1");

    public static IReadOnlyList<Reply> Replies { get; } =
    [
        new(200, "What holds it, as JSON or as a page (Accept: text/html); what was not proven in a second or two says so",
            typeof(Why)),
    ];

    /// <summary>The plan's address, where the caller may ask there.</summary>
    public static string? AddressFor(Request request, string address) => request.Caller.HasRole(MayUse) ? address : null;

    public static async Task<Answer> Of(Request request, LoadedPlan worked)
    {
        var (title, problem, plan, _) = worked;
        if (problem.Week.Tasks.FirstOrDefault(task => task.Id == request["task"]) is not { } task)
            return Refused.Missing("task", request["task"]);
        if (StintOf(request.Query("stint"), task.Stints) is not { } stint)
            return Refused.With(400, task.Stints == 1 ? $"{task.Name} has one part: stint is 1."
                : $"stint takes a whole number from 1 to {task.Stints}.", "no-stint");
        var form = request.PreferredType(Json, Page);
        if (form is null) return Refused.With(406, "This is answered as application/json or text/html.");

        var asked = await request.Admission.Admit(
            stop => Why.Of(problem, plan, task.Id, stint, TimeLimit, stop), request.Cancelled);
        return asked.Match(why => why is null
                ? Refused.With(409, $"The plan does not have {task.Name}: its display is left out or replaced.", "not-planned")
            : form == Page ? Answer.Text(WhyPage.Of(title, problem.Week, why), WeekPage.ContentType)
            : Answer.Ok(why), busy => busy);
    }

    private static int? StintOf(string? given, int most) => given is null ? 1
        : int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out var stint) && stint >= 1 && stint <= most
            ? stint : null;
}
