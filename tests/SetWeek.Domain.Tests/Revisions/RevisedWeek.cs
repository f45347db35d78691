using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Revisions;

/// <summary>The example week, revised by an edit of it as the planner reads it.</summary>
internal static class RevisedWeek
{
    public static TasksRevised Tasks(params WeekTask[] tasks) =>
        new("first-rain", 1, null, TaskRevisionKind.Store, tasks, [], "lena");

    public static Week Wanted(StoreWeek week, Func<Week, Week> edit) => edit(PlanningProblem.WeekOf(week, Crew));

    public static WeekRevision Revised(StoreWeek week, Func<Week, Week> edit) => Revised(week, Crew, edit);

    public static WeekRevision Revised(StoreWeek week, CrewFile crew, Func<Week, Week> edit) =>
        week.Revise(crew, edit(PlanningProblem.WeekOf(week, crew)), MondayEvening, "lena").Match(
            revision => revision,
            refusal => throw new InvalidOperationException($"{refusal.Sentence} {string.Join(' ', refusal.Because)}"),
            faults => throw new InvalidOperationException(string.Join('\n', faults.All)));
}
