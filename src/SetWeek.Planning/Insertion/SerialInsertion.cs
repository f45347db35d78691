using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// The serial schedule-generation scheme (Kelley 1963): it inserts stints in a given order, predecessors first, then clean-downs,
/// final stints and rosters. If a stint does not fit, its display may take its next choice: the alternate or, if the display is
/// optional, none.
/// </summary>
internal sealed class SerialInsertion(CompactProblem compact, ActivityInsertion insertion, Rostering rostering)
{
    private readonly bool[] required = new bool[compact.Activities.Length];
    private readonly bool[] visited = new bool[compact.Activities.Length];
    private readonly List<int> notInserted = [];
    private readonly CompanyCompletion company = new(compact, insertion);

    /// <summary>Number of stints that the schedule lacked after the last <see cref="InsertAll"/>.</summary>
    public int MissingCount { get; private set; }

    /// <summary>Work content of those stints.</summary>
    public int MissingWork { get; private set; }

    /// <summary>
    /// Inserts the stints of an order. False if a clean-down or a roster is impossible; with <paramref name="allOrNothing"/> also
    /// if a stint is missing.
    /// </summary>
    /// <param name="schedule">The partial schedule.</param>
    /// <param name="order">Stints. Predecessors and final stints have their own turn, whatever their position.</param>
    /// <param name="mayChangeChoices">True: the display of a stint without room takes its next choice.</param>
    /// <param name="allOrNothing">True: gives up early once a stint is missing.</param>
    public bool InsertAll(PartialSchedule schedule, ReadOnlySpan<int> order, bool mayChangeChoices, bool allOrNothing = false)
    {
        notInserted.Clear();
        Array.Clear(required);
        Array.Clear(visited);
        for (var decision = 0; decision < compact.DisplayDecisions.Length; decision++)
            SetRequired(schedule, decision, isRequired: true);
        foreach (var activity in order)
        {
            InsertAfterPredecessors(schedule, activity);
            if (notInserted.Count > 0 && allOrNothing && !mayChangeChoices) break;
        }
        if (!allOrNothing || notInserted.Count == 0 || mayChangeChoices) CompleteCompany(schedule);
        if (mayChangeChoices) TakeNextChoices(schedule);
        var cleanDownsFit = UpdateCleanDowns(schedule);
        foreach (var activity in compact.FinalStints)
            if (required[activity] && schedule.Night[activity] < 0
                && (notInserted.Count > 0 && allOrNothing || !insertion.Insert(schedule, activity, -1)))
                notInserted.Add(activity);
        if (company.IsLacking(schedule)) company.Complete(schedule);
        CountMissing(schedule);
        return (MissingCount == 0 || !allOrNothing) && cleanDownsFit && rostering.TryRoster(schedule);
    }

    /// <summary>Completes the company of all stints. Those that find none are no longer inserted.</summary>
    private void CompleteCompany(PartialSchedule schedule)
    {
        if (company.Complete(schedule)) return;
        foreach (var stint in compact.StintsWithCompany)
            if (required[stint] && schedule.Night[stint] < 0 && !notInserted.Contains(stint)) notInserted.Add(stint);
    }

    /// <summary>
    /// Adds missing clean-downs and removes those that no work needs. A ruin can leave either behind, and so can the published
    /// plan. False if one does not fit.
    /// </summary>
    private bool UpdateCleanDowns(PartialSchedule schedule)
    {
        for (var at = 0; at < schedule.CleanDownDemand.Length; at++)
            if ((schedule.CleanDownDemand[at] > 0) != (schedule.Night[compact.Stints + at] >= 0)
                && !insertion.UpdateCleanDown(schedule, at / compact.Nights, at % compact.Nights))
                return false;
        return true;
    }

    private void CountMissing(PartialSchedule schedule)
    {
        (MissingCount, MissingWork) = (0, 0);
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (!required[activity] || schedule.Night[activity] >= 0) continue;
            MissingCount++;
            MissingWork += WorkContent(activity);
        }
    }

    /// <summary>
    /// Slots x people of the activity's first mode. Work without people counts as for one person; an activity without modes is 1.
    /// </summary>
    public int WorkContent(int activity) => compact.Activities[activity].Modes is [var mode, ..]
        ? mode.DurationSlots * Math.Max(1, mode.Requirements.Length) : 1;

    /// <summary>Stints of the chosen displays that the schedule lacks, in topological order.</summary>
    public List<int> MissingIn(PartialSchedule schedule)
    {
        var missing = new List<int>();
        for (var decision = 0; decision < compact.DisplayDecisions.Length; decision++)
            foreach (var activity in StintsOf(compact.DisplayDecisions[decision], schedule.Choice[decision]))
                if (schedule.Night[activity] < 0) missing.Add(activity);
        missing.Sort((first, second) =>
            compact.Activities[first].TopologicalRank - compact.Activities[second].TopologicalRank);
        return missing;
    }

    private static int[] StintsOf(DisplayDecision decision, int choice) =>
        choice switch { 0 => decision.DisplayStints, 1 => decision.AlternateStints, _ => [] };

    private void SetRequired(PartialSchedule schedule, int decision, bool isRequired)
    {
        foreach (var activity in StintsOf(compact.DisplayDecisions[decision], schedule.Choice[decision]))
            required[activity] = isRequired;
    }

    private void InsertAfterPredecessors(PartialSchedule schedule, int activity)
    {
        if (!required[activity] || schedule.Night[activity] >= 0 || visited[activity]) return;
        if (compact.Activities[activity].IsFinal) return;
        visited[activity] = true;
        foreach (var member in compact.Activities[activity].SameNightGroup)
            foreach (var predecessor in compact.Activities[member].Predecessors)
                InsertAfterPredecessors(schedule, predecessor.Activity);
        if (schedule.Night[activity] >= 0) return;
        if (HasMissingPredecessor(schedule, activity) || !insertion.InsertGroup(schedule, activity)) notInserted.Add(activity);
    }

    /// <summary>
    /// Does the group of the activity have a required predecessor without a place? Inserted now, the activity could block it for
    /// good.
    /// </summary>
    private bool HasMissingPredecessor(PartialSchedule schedule, int activity)
    {
        var group = compact.Activities[activity].SameNightGroup;
        foreach (var member in group)
            foreach (var predecessor in compact.Activities[member].Predecessors)
                if (required[predecessor.Activity] && schedule.Night[predecessor.Activity] < 0
                    && !group.Contains(predecessor.Activity))
                    return true;
        return false;
    }

    /// <summary>
    /// Switches the display of each stint without room to its next choice and inserts the stints of that choice. Those without
    /// room are handled in the same pass.
    /// </summary>
    private void TakeNextChoices(PartialSchedule schedule)
    {
        for (var index = 0; index < notInserted.Count; index++)
        {
            var activity = compact.Activities[notInserted[index]];
            if (schedule.Night[activity.Index] >= 0 || !required[activity.Index]) continue;
            var decision = Array.FindIndex(compact.DisplayDecisions, decision =>
                decision.Display == activity.Display || decision.Alternate == activity.Display);
            var choices = compact.DisplayDecisions[decision].OpenChoices;
            var next = Array.IndexOf(choices, schedule.Choice[decision]) + 1;
            if (next >= choices.Length) continue;
            SwitchChoice(schedule, decision, choices[next]);
            foreach (var stint in StintsOf(compact.DisplayDecisions[decision], schedule.Choice[decision]))
                InsertAfterPredecessors(schedule, stint);
        }
    }

    /// <summary>Switches a display to another choice and removes the stints of the present one.</summary>
    public void SwitchChoice(PartialSchedule schedule, int decision, int choice)
    {
        SetRequired(schedule, decision, isRequired: false);
        foreach (var stint in StintsOf(compact.DisplayDecisions[decision], schedule.Choice[decision]))
            if (schedule.Night[stint] >= 0)
            {
                var night = schedule.Night[stint];
                schedule.Remove(stint);
                insertion.UpdateCleanDown(schedule, compact.Activities[stint].Zone, night);
            }
        schedule.Choice[decision] = choice;
        SetRequired(schedule, decision, isRequired: true);
    }
}
