using OneOf;
using SetWeek.Model.Json;

namespace SetWeek.Cli.Input;

/// <summary>A file named on the command line, read whole; what is wrong goes to standard error, a line each.</summary>
internal static class InputFile
{
    /// <summary>Null where there is something wrong, which has been said.</summary>
    public static T? Read<T>(string path, Func<ReadOnlyMemory<byte>, OneOf<T, FaultReport>> read) where T : class
    {
        try
        {
            // A byte more than is allowed is enough to know that it is too long.
            using var file = File.OpenRead(path);
            using var bytes = new MemoryStream();
            var buffer = new byte[81920];
            for (int count; bytes.Length <= JsonCursor.MaxBytes && (count = file.Read(buffer)) > 0;)
                bytes.Write(buffer, 0, count);
            return ValueOrReport(path, read(bytes.ToArray()));
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException
            or NotSupportedException or ArgumentException)
        {
            Console.Error.WriteLine($"{path}: cannot be read: {unreadable.Message}");
            return null;
        }
    }

    /// <summary>What was made of a file; null where something is wrong with it, which is said.</summary>
    public static T? ValueOrReport<T>(string path, OneOf<T, FaultReport> made) where T : class =>
        made.Match(good => good, faults => Report<T>(path, faults));

    private static T? Report<T>(string path, FaultReport faults) where T : class
    {
        foreach (var fault in faults.All)
            Console.Error.WriteLine($"{path}: {(fault.Pointer.Length == 0 ? "(all of it)" : fault.Pointer)}: {fault.Detail}");
        return null;
    }
}
