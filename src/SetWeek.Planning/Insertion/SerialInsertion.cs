using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Puts jobs into a draft in an order, what comes before another first; then the final task, then the roster. What does not
/// fit gives its display's next choice: the alternate, or, for a want, none.
/// </summary>
internal sealed class SerialInsertion(CompactProblem compact, ActivityInsertion insertion, Rostering rostering)
{
    private readonly bool[] required = new bool[compact.Activities.Length];
    private readonly bool[] visiting = new bool[compact.Activities.Length];
    private readonly List<int> notInserted = [];

    /// <summary>Stints that should be there and are not, after the last <see cref="InsertAll"/>.</summary>
    public int MissingCount { get; private set; }

    /// <summary>The same, in slots times people (one at the least).</summary>
    public int MissingWork { get; private set; }

    /// <summary>Places the stints of an order; false where the roster cannot be settled.</summary>
    public bool InsertAll(PartialSchedule schedule, ReadOnlySpan<int> order, bool mayChangeChoices, bool allOrNothing = false)
    {
        notInserted.Clear();
        Array.Clear(required);
        Array.Clear(visiting);
        for (var option = 0; option < compact.DisplayDecisions.Length; option++) SetRequired(schedule, option, isRequired: true);
        foreach (var activity in order)
        {
            InsertAfterPredecessors(schedule, activity);
            if (notInserted.Count > 0 && allOrNothing && !mayChangeChoices) break;
        }
        if (mayChangeChoices) TakeNextChoices(schedule);
        var clean = UpdateCleanDowns(schedule);
        foreach (var activity in compact.FinalStints)
            if (required[activity] && schedule.Night[activity] < 0
                && (notInserted.Count > 0 && allOrNothing || !insertion.Insert(schedule, activity, -1)))
                notInserted.Add(activity);
        CountMissing(schedule);
        return (MissingCount == 0 || !allOrNothing) && clean && rostering.TryRoster(schedule);
    }

    /// <summary>
    /// A clean-down that found no place again when work in its zone was taken out, or that was published for work which lies
    /// elsewhere now, is put right here: no stint that is missing would tell of it.
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

    /// <summary>Slots times people (one at the least) that a job takes in its first way.</summary>
    public int WorkContent(int activity) => compact.Activities[activity].Modes is [var mode, ..] ? mode.DurationSlots * Math.Max(1, mode.Requirements.Length) : 1;

    /// <summary>Stints that a draft's choices ask for and that are not in it, what comes first first.</summary>
    public List<int> MissingIn(PartialSchedule schedule)
    {
        var missing = new List<int>();
        for (var option = 0; option < compact.DisplayDecisions.Length; option++)
            foreach (var activity in StintsOf(compact.DisplayDecisions[option], schedule.Choice[option]))
                if (schedule.Night[activity] < 0) missing.Add(activity);
        missing.Sort((one, other) => compact.Activities[one].TopologicalRank - compact.Activities[other].TopologicalRank);
        return missing;
    }

    public static int[] StintsOf(DisplayDecision decision, int choice) =>
        choice switch { 0 => decision.DisplayStints, 1 => decision.AlternateStints, _ => [] };

    private void SetRequired(PartialSchedule schedule, int decision, bool isRequired)
    {
        foreach (var activity in StintsOf(compact.DisplayDecisions[decision], schedule.Choice[decision])) required[activity] = isRequired;
    }

    private void InsertAfterPredecessors(PartialSchedule schedule, int activity)
    {
        if (!required[activity] || schedule.Night[activity] >= 0 || visiting[activity] || compact.Activities[activity].IsFinal) return;
        visiting[activity] = true;
        foreach (var member in compact.Activities[activity].SameNightGroup)
            foreach (var precedence in compact.Activities[member].Predecessors) InsertAfterPredecessors(schedule, precedence.Activity);
        if (schedule.Night[activity] >= 0) return;
        if (HasMissingPredecessor(schedule, activity) || !insertion.InsertGroup(schedule, activity)) notInserted.Add(activity);
    }

    /// <summary>Something that comes before it has found no place: put down now, it would bar that place for good.</summary>
    private bool HasMissingPredecessor(PartialSchedule schedule, int activity)
    {
        foreach (var member in compact.Activities[activity].SameNightGroup)
            foreach (var precedence in compact.Activities[member].Predecessors)
                if (required[precedence.Activity] && schedule.Night[precedence.Activity] < 0 && !compact.Activities[activity].SameNightGroup.Contains(precedence.Activity)) return true;
        return false;
    }

    private void TakeNextChoices(PartialSchedule schedule)
    {
        for (var at = 0; at < notInserted.Count; at++)
        {
            var activity = compact.Activities[notInserted[at]];
            var option = Array.FindIndex(compact.DisplayDecisions, option =>
                option.Display == activity.Display || option.Alternate == activity.Display);
            if (schedule.Night[activity.Index] >= 0 || !required[activity.Index]) continue;
            var choices = compact.DisplayDecisions[option].OpenChoices;
            var next = Array.IndexOf(choices, schedule.Choice[option]) + 1;
            if (next >= choices.Length) continue;
            SwitchChoice(schedule, option, choices[next]);
            foreach (var stint in StintsOf(compact.DisplayDecisions[option], schedule.Choice[option])) InsertAfterPredecessors(schedule, stint);
        }
    }

    /// <summary>Takes another choice for a display; the stints of the one before are lifted.</summary>
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
