using Marten;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

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

/// <summary>A slice that only reads.</summary>
public interface IQuery : ISlice
{
    static abstract Task<Answer> Handle(Request request, IQuerySession session);
}
