using Google.OrTools.Sat;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Exact;

/// <summary>
/// Solves an exact model with CP-SAT. Every solution is offered to the incumbent as a plan. Cancelling the budget stops the
/// solver.
/// </summary>
internal sealed class CpRun(CpWeekModel model, Incumbent incumbent, Budget budget)
{
    /// <summary>
    /// Turns probing off. Without probing the first plan of a large week was found in a fifth of the time.
    /// </summary>
    private const string NoProbing = "cp_model_probing_level:0";

    /// <summary>
    /// Turns the linear relaxation off. Without it, whether a re-plan keeps to a number of changes was decided sooner in the
    /// cases tried.
    /// </summary>
    public const string NoLinearRelaxation = "linearization_level:0";

    /// <summary>Proven lower bound of the objective, unrounded; minus infinity where none is known.</summary>
    public double Bound { get; private set; } = double.NegativeInfinity;

    /// <summary>The incumbent accepted a plan of this run as its best.</summary>
    public bool Improved { get; private set; }

    /// <summary>Solves the model once.</summary>
    /// <param name="allowance">Seconds or units of effort at most.</param>
    /// <param name="workers">Threads of the solver.</param>
    /// <param name="extraParameters">Further solver parameters, as "name:value", separated by spaces.</param>
    public SolverStatus Run(double allowance, int workers, string extraParameters = "")
    {
        if (model.Infeasible) return SolverStatus.Infeasible;
        if (budget.Spent) return SolverStatus.Stopped;
        var parameters = $"{budget.SatParameters(allowance, workers)} {NoProbing} {extraParameters}";
        using var solver = new CpSolver { StringParameters = parameters };
        using var callback = new SolutionCallback(this);
        using var stopping = new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested, budget.Clock);
        var status = solver.Solve(model.Cp, callback);
        budget.Charge(solver.Response!.DeterministicTime);
        callback.Fault.Rethrow();
        if (status == CpSolverStatus.ModelInvalid) throw new InvalidOperationException(model.Cp.Validate());
        if (status == CpSolverStatus.Infeasible) return SolverStatus.Infeasible;
        Bound = solver.BestObjectiveBound;
        return status == CpSolverStatus.Optimal ? SolverStatus.Solved : SolverStatus.Stopped;
    }

    /// <summary>
    /// Runs on a solver thread, where an uncaught exception would end the process. The exception is kept and rethrown after the
    /// solve.
    /// </summary>
    private sealed class SolutionCallback(CpRun run) : CpSolverSolutionCallback
    {
        public ThreadFault Fault { get; } = new();

        public override void OnSolutionCallback() => Fault.Guard(() => run.Improved |= run.Offer(this), StopSearch);
    }

    private bool Offer(CpSolverSolutionCallback solution) => incumbent.Offer(model.Read(solution.Value));
}
