namespace SetWeek.Service.Access;

/// <summary>A link that opens a browser session. It is signed and has not expired.</summary>
/// <param name="Id">Tells it from every other link.</param>
public sealed record SignInLink(Caller Caller, string Id, DateTimeOffset Until);

/// <summary>Why a sign-in link opens no session.</summary>
public enum LinkFault
{
    /// <summary>The service is reached from other machines, where such links are refused.</summary>
    NotHere,

    /// <summary>It is not signed by this service.</summary>
    Invalid,
    Expired,

    /// <summary>It has opened a session already.</summary>
    Spent,
}
