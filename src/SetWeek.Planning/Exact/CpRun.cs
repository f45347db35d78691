using System.Runtime.ExceptionServices;
using Google.OrTools.Sat;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Exact;

/// <summary>How a run of the solver ended.</summary>
internal enum CpRunStatus { Optimal, Infeasible, Stopped }

/// <summary>One run of the solver on an exact model. Every plan found is offered; a cancel stops it wherever it is.</summary>
internal sealed class CpRun(CpWeekModel model, Incumbent incumbent, Budget budget)
{
    /// <summary>Probing costs more than it gives: the first plan of a large week comes in a fifth of the time without.</summary>
    private const string NoProbing = "cp_model_probing_level:0";

    /// <summary>Least value that the sum minimised can have; minus infinity where nothing is known.</summary>
    public double Bound { get; private set; } = double.NegativeInfinity;

    /// <summary>A plan was taken as the best so far.</summary>
    public bool Improved { get; private set; }

    public CpRunStatus Run(double allowance, int workers, string extraParameters = "")
    {
        if (model.Infeasible) return CpRunStatus.Infeasible;
        if (budget.Spent) return CpRunStatus.Stopped;
        using var solver = new CpSolver { StringParameters = $"{budget.SatParameters(allowance, workers)} {NoProbing} {extraParameters}" };
        using var watch = new SolutionCallback(this);
        using var stopping = new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested);
        var status = solver.Solve(model.Cp, watch);
        budget.Charge(solver.Response!.DeterministicTime);
        watch.Fault?.Throw();
        if (status == CpSolverStatus.ModelInvalid) throw new InvalidOperationException(model.Cp.Validate());
        if (status == CpSolverStatus.Infeasible) return CpRunStatus.Infeasible;
        Bound = solver.BestObjectiveBound;
        return status == CpSolverStatus.Optimal ? CpRunStatus.Optimal : CpRunStatus.Stopped;
    }

    /// <summary>Called on a thread of the solver's, where an exception would end the process.</summary>
    private sealed class SolutionCallback(CpRun run) : CpSolverSolutionCallback
    {
        public ExceptionDispatchInfo? Fault { get; private set; }

        public override void OnSolutionCallback()
        {
            try
            {
                run.Improved |= run.Offer(this);
            }
            catch (Exception fault)
            {
                Fault = ExceptionDispatchInfo.Capture(fault);
                StopSearch();
            }
        }
    }

    private bool Offer(CpSolverSolutionCallback solution) => incumbent.Offer(model.Read(solution.Value));
}
