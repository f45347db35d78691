namespace SetWeek.Service.Pages.Weeks;

/// <summary>What a reader may do on the page of a plan.</summary>
/// <param name="Ask">The address that takes a request for another plan.</param>
/// <param name="Publish">The address that publishes this plan; null if it cannot be published.</param>
/// <param name="Published">The page of the published plan.</param>
/// <param name="Token">The anti-forgery token.</param>
/// <param name="IfMatch">The version of the week that the reader sees.</param>
/// <param name="Key">The idempotency key of the forms; another each time the page is loaded.</param>
public sealed record PlanActs(string Ask, string? Publish, string Published, string Token, string IfMatch, string Key)
{
    /// <summary>The page on which changes are tried.</summary>
    public required string WhatIf { get; init; }

    /// <summary>The address that accepts a repair of this plan, by its number from 1; null if none can be accepted.</summary>
    public Func<int, string>? Accept { get; init; }
}
