namespace SetWeek.Service.Pages.Directions;

/// <summary>The form that brings in a direction, or a new version of one, from a file or a text.</summary>
/// <param name="Token">The anti-forgery token.</param>
/// <param name="Key">The idempotency key; another each time the page is loaded.</param>
public sealed record ImportForm(string Token, string Key);
