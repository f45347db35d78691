using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// What follows from a week by reasoning alone, in milliseconds and without a solver: when each stint could lie, what must
/// be left out, how many nights it takes at the least - or what makes it impossible. Never calls a week impossible that has
/// a valid plan.
/// </summary>
internal sealed class Certificates
{
    private readonly Problem problem;
    private readonly Energy energy;

    private Certificates(Problem problem)
    {
        this.problem = problem;
        Crew = new CrewRooms(problem);
        Starts = new StartRooms(problem, Crew);
        Windows = new StintWindows(problem, Starts);
        Sets = new CrewSets(problem);
        energy = new Energy(problem, Crew, Starts, Windows, Sets).Weigh();
    }

    public static Certificates Of(Problem problem) => new(problem);

    public CrewRooms Crew { get; }
    public StartRooms Starts { get; }
    public StintWindows Windows { get; }
    public CrewSets Sets { get; }
    public Energy.Shortage? Shortage => energy.Short;

    /// <summary>The week has no valid plan.</summary>
    public bool Impossible => Windows.Placing.Contradiction is not null || energy.Short is not null;

    /// <summary>A bound for a goal over all valid plans, whatever the other goals are; 0 where reasoning says nothing.</summary>
    public long Bound(string goal) => goal switch
    {
        "leftOut" => Windows.Placing.LeftOut,
        "nights" => Math.Max(Sure.Select(stint => Windows.FirstNight(stint.Index) + 1).DefaultIfEmpty(0).Max(), energy.Nights),
        "finish" => Math.Max(Sure.Select(EarliestAllDone).DefaultIfEmpty(0).Max(), energy.Finish),
        _ => 0,
    };

    private IEnumerable<Stint> Sure => problem.Stints.Where(stint => Windows.Placing.Sure(stint.Task.Display));

    /// <summary>A clean-down follows in the same night, and is work as well.</summary>
    private int EarliestAllDone(Stint stint)
    {
        var down = stint.Task.Last || problem.Facts is not null ? 0 : problem.Zones[stint.Task.Zone].CleanDown?.Minutes ?? 0;
        return Windows.EarliestEnd(stint.Index) + down;
    }
}
