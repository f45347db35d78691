using System.Runtime.CompilerServices;
using System.Threading.Channels;
using OneOf;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Json;

namespace SetWeek.Service.Risks;

/// <summary>Answers with the parts of a risk report while they are computed, and at the end with the whole report.</summary>
internal static class RiskStream
{
    /// <summary>Tells a part that is ready. Several threads may call it.</summary>
    public delegate void Tell(string name, object part);

    /// <summary>Begins the computation when it is its turn.</summary>
    /// <returns>An answer with events; or the refusal of a busy service, which must come before the first event.</returns>
    public static async Task<Answer> Open(Request request, Func<Tell, CancellationToken, RiskReport> compute)
    {
        var parts = Channel.CreateUnbounded<StreamEvent>();
        var begun = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var end = CancellationTokenSource.CreateLinkedTokenSource(request.Cancelled);
        var computed = request.Admission.Admit(request.Caller.Tenant, stop =>
        {
            begun.SetResult();
            var report = compute(Write, stop);
            Write("report", report);
            return report;
        }, end.Token);
        if (await Task.WhenAny(begun.Task, computed) == computed && (await computed).TryPickT1(out var busy, out _))
        {
            end.Dispose();
            return busy;
        }
        _ = computed.ContinueWith(done => parts.Writer.Complete(done.Exception?.GetBaseException()), TaskScheduler.Default);
        return new Answer(200) { Events = Read(parts.Reader, computed, end, request.Cancelled) };

        void Write(string name, object part) => parts.Writer.TryWrite(StreamEvent.Named(name, JsonFormat.Bytes(part)));
    }

    /// <summary>The parts in the order in which they were told. A caller who leaves ends the computation.</summary>
    private static async IAsyncEnumerable<StreamEvent> Read(ChannelReader<StreamEvent> parts,
        Task<OneOf<RiskReport, Answer>> computed, CancellationTokenSource end, CancellationToken gone,
        [EnumeratorCancellation] CancellationToken closed = default)
    {
        using var either = CancellationTokenSource.CreateLinkedTokenSource(gone, closed);
        try
        {
            await foreach (var part in parts.ReadAllAsync(either.Token)) yield return part;
        }
        finally
        {
            await end.CancelAsync();
            await ((Task)computed).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            end.Dispose();
        }
    }
}
