using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Http.Reports;

/// <summary>A request with reports that waits at the desk until they are committed.</summary>
/// <param name="Operation">The id of the operation; with the key the cause of the events.</param>
/// <param name="Trace">The trace id of the request.</param>
public sealed record Submission(Request Request, string Operation, string Trace, IdempotencyKey? Key, ReportBatch Batch)
{
    private readonly TaskCompletionSource<Answer> answer = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public Task<Answer> Answer => answer.Task;

    public string Week => Request.Id;

    public string Cause => $"{Operation} {Key?.Key}".TrimEnd();

    public void Complete(Answer with) => answer.TrySetResult(with);

    public void Fail(Exception error) => answer.TrySetException(error);
}
