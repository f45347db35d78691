namespace SetWeek.Planning.Search;

/// <summary>How a solve of an exact or linear model ended.</summary>
internal enum SolverStatus
{
    /// <summary>The optimum is proven, or the bound that the caller asked for is reached.</summary>
    Solved,

    /// <summary>The model has no solution (proven).</summary>
    Infeasible,

    /// <summary>The budget ended the solve, or it was cancelled.</summary>
    Stopped,
}
