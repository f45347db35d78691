using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>
/// A change to the week that may make its plan hold more often. It keeps the indices of the week's tasks, people and nights.
/// </summary>
internal abstract record MitigationCandidate
{
    public abstract WeekChange Change { get; }

    /// <summary>False: the change has no effect on the plan as it is, so only a new plan shows what it gives.</summary>
    public virtual bool ChangesPlan => true;

    /// <summary>The value of what the change itself leaves out.</summary>
    public virtual long LeftOutValue => 0;

    public virtual string Sentence(Week week) => Change.Sentence(week);

    /// <summary>The week with the change, and its plan as far as the change alters it.</summary>
    public abstract MitigationCase Apply(MitigationCase mitigationCase);
}
