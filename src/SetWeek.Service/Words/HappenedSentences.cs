using SetWeek.Domain.Crews;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Words;

/// <summary>What has happened in a week, as a page says it: a plan is named by its issue and not by its id.</summary>
public static class HappenedSentences
{
    public static string Of(StoreWeek week, CrewFile crew, IWeekEvent e) => e switch
    {
        PlanPublished { Issue: { } issue } => $"Issue {issue} of the plan was published.",
        PlanPublished => "A plan was published.",
        PlanBroken broken => $"The published plan no longer holds: {NameRemoval.WithNames(broken.Sentence, crew)}",
        PlanHoldsAgain => "The published plan holds again.",
        _ => EventSentences.Of(week, crew, e),
    };
}
