namespace SetWeek.Service.Pages.Questions;

/// <summary>A question as a page shows it.</summary>
/// <param name="Id">Unique on the page.</param>
/// <param name="Text">Null if it is erased.</param>
/// <param name="Asked">When, by whom and about what, as a sentence.</param>
public sealed record AskedQuestion(string Id, string? Text, string Asked)
{
    /// <summary>The store that asks, with the address of the week's questions; null on a page of one store.</summary>
    public Named? Store { get; init; }

    /// <summary>Whether a block belongs to it, so that work waits for the answer.</summary>
    public bool HoldsWorkUp { get; init; }

    /// <summary>Other questions on the page about the same display of the same direction, each with its address.</summary>
    public IReadOnlyList<Named> Alike { get; init; } = [];

    /// <summary>Null if it is not answered.</summary>
    public GivenAnswer? Answer { get; init; }

    /// <summary>How the reader may answer; null if the reader may not.</summary>
    public AnswerAct? Act { get; init; }

    /// <summary>How it is chosen for an answer that several get; null if it is not offered.</summary>
    public Tick? Together { get; init; }

    /// <param name="Address">The address of the question, by which it is named.</param>
    /// <param name="IsChosen">Whether it was chosen in the form that was refused just now.</param>
    public sealed record Tick(string Address, bool IsChosen);

    /// <summary>A name that leads somewhere.</summary>
    public sealed record Named(string Name, string Address);

    /// <param name="Text">Null if it is erased.</param>
    /// <param name="Given">When, by whom and for whom, as a sentence.</param>
    public sealed record GivenAnswer(string? Text, string Given);

    /// <param name="Action">The address that takes the answer.</param>
    /// <param name="Then">The page to show next.</param>
    /// <param name="Label">What the button says: "Answer Mill Lane".</param>
    /// <param name="ForAll">What the button says that answers for all stores; null if the reader may not.</param>
    /// <param name="Allow">What the button says that allows what is asked; null if the reader may not.</param>
    public sealed record AnswerAct(string Action, string Token, string Then, string Label, string? ForAll, string? Allow);

    /// <summary>
    /// The answer that allows what is asked. The store decides and does it; what protects people is not head office's to set
    /// aside.
    /// </summary>
    public const string Allowed = "Yes, head office allows it. The cautions and local codes stand.";
}
