using Microsoft.AspNetCore.Http;

namespace SetWeek.Browser.Tests;

/// <summary>Answers of a service that are held, as by a slow network, until this is disposed.</summary>
/// <param name="text">What the addresses contain.</param>
internal sealed class HeldAnswers(string text) : IDisposable
{
    private readonly TaskCompletionSource released = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Waits with a request while its answer is held.</summary>
    public Task Wait(HttpContext http) => http.Request.Path.Value!.Contains(text, StringComparison.Ordinal)
        ? released.Task.WaitAsync(http.RequestAborted) : Task.CompletedTask;

    public void Dispose() => released.SetResult();
}
