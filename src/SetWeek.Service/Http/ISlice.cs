using Marten;
using OneOf;
using SetWeek.Model.Json;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Http.ServerSent;

namespace SetWeek.Service.Http;

/// <summary>A command or query: one file with all of its code, and one line in <see cref="AllSlices"/>.</summary>
public interface ISlice
{
    static abstract Operation Operation { get; }
}

/// <summary>
/// A slice that changes state. After it returns, the edge commits the events and documents of the session together with the
/// messages and the idempotency record. If the answer is a refusal, nothing is committed.
/// </summary>
public interface ICommand : ISlice
{
    static abstract Task<Answer> Handle(Request request, IDocumentSession session);
}

/// <summary>
/// A slice that takes a report from the floor: a fact, which the <see cref="ReportDesk"/> commits together with others. It only
/// reads the body, so that the same slice reads an item of a phone's queue.
/// </summary>
public interface IReport : ISlice
{
    static abstract OneOf<FloorReport, Answer> Read(JsonFields json, Request request);
}

/// <summary>A slice that takes several reports at once.</summary>
public interface IReports : ISlice
{
    static abstract OneOf<ReportBatch, Answer> Read(Request request);
}

/// <summary>A slice that only reads.</summary>
public interface IQuery : ISlice
{
    static abstract Task<Answer> Handle(Request request, IQuerySession session);
}

/// <summary>
/// A slice that answers with server-sent events. They end with the last of them, or when the caller disconnects, the token
/// expires or the service stops.
/// </summary>
public interface IStream : ISlice
{
    /// <summary>Called once the caller's role and store are checked. The events are read after it returns.</summary>
    static abstract Task<OneOf<IAsyncEnumerable<StreamEvent>, Answer>> Open(Request request, IServiceProvider services);
}
