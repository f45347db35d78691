using Marten;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Http;

/// <summary>One command or query: a file that holds all of it, and a line in <see cref="AllSlices"/>.</summary>
public interface ISlice
{
    static abstract Operation Operation { get; }
}

/// <summary>
/// Changes something. What it asks of the session (events, documents) is committed after it, together with its messages and
/// the record that makes a repeat safe; nothing is committed where the answer is a refusal.
/// </summary>
public interface ICommand : ISlice
{
    static abstract Task<Answer> Handle(Request request, IDocumentSession session);
}

/// <summary>Reads something.</summary>
public interface IQuery : ISlice
{
    static abstract Task<Answer> Handle(Request request, IQuerySession session);
}
