using OneOf;
using SetWeek.Model.Json;

namespace SetWeek.Cli.Input;

/// <summary>Reads a file named on the command line. Each fault is one line on standard error.</summary>
internal static class InputFile
{
    /// <returns>Null after a fault has been printed.</returns>
    public static T? Read<T>(string path, Func<ReadOnlyMemory<byte>, OneOf<T, FaultReport>> read) where T : class
    {
        try
        {
            // Stops after the first buffer beyond the limit; the reader then reports that the file is too long.
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
            Console.Error.WriteLine($"{path}: the file cannot be read: {unreadable.Message}");
            return null;
        }
    }

    /// <returns>The value; null after the faults have been printed.</returns>
    public static T? ValueOrReport<T>(string path, OneOf<T, FaultReport> result) where T : class =>
        result.Match(value => value, faults => Report<T>(path, faults));

    private static T? Report<T>(string path, FaultReport faults) where T : class
    {
        foreach (var fault in faults.All)
            Console.Error.WriteLine($"{path}: {(fault.Pointer.Length == 0 ? "(whole file)" : fault.Pointer)}: {fault.Detail}");
        return null;
    }
}
