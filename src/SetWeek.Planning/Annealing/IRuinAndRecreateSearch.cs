using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>The parts of a step of <see cref="RuinAndRecreate"/> that differ between searches.</summary>
internal interface IRuinAndRecreateSearch
{
    /// <summary>Removes activities from the trial, so that inserting them again can change the schedule.</summary>
    void Remove(PartialSchedule trial);

    /// <summary>
    /// May change a display's choice in the trial. True: a stint that finds no room may switch its display to the next choice.
    /// </summary>
    bool ChangeChoices(PartialSchedule trial);

    /// <summary>Cost of the trial; null if it exceeds the limit and the search does not accept it for another reason.</summary>
    double? CostWithin(PartialSchedule trial, double limit);
}
