using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;
using Microsoft.IdentityModel.Tokens;

namespace SetWeek.Service.Access;

/// <summary>The secret that signs tokens: 64 random bytes in a file that only its owner can read.</summary>
public static class SigningKey
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Reads the key; creates the file if it does not exist.</summary>
    /// <exception cref="InvalidOperationException">
    /// The key is too short, or others can read the file. The message says what to do.
    /// </exception>
    public static SymmetricSecurityKey ReadOrCreate(string path)
    {
        if (!File.Exists(path)) Create(path);
        if ((File.GetUnixFileMode(path) & ~OwnerOnly) != 0)
            throw new InvalidOperationException($"Other users can read the signing key {path}. Run: chmod 600 {path}");
        var key = Convert.FromBase64String(File.ReadAllText(path).Trim());
        return key.Length >= 32 ? new SymmetricSecurityKey(key)
            : throw new InvalidOperationException(
                $"The signing key {path} is shorter than 32 bytes. Delete the file, and the service will create a new key.");
    }

    private static void Create(string path)
    {
        if (Path.GetDirectoryName(Path.GetFullPath(path)) is { } folder) Directory.CreateDirectory(folder);
        // Written beside it and then linked to its name, so that no process reads a key that is not complete.
        var beside = $"{path}.{RandomNumberGenerator.GetHexString(12, lowercase: true)}";
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write, UnixCreateMode = OwnerOnly };
        try
        {
            using (var file = new StreamWriter(beside, options))
                file.WriteLine(Convert.ToBase64String(RandomNumberGenerator.GetBytes(64)));
            // If another process has just created it, its key is used. File.Move would look first and then rename, so that two
            // processes could both succeed.
            if (Link(Zeroed(beside), Zeroed(path)) != 0 && !File.Exists(path))
                throw new IOException(
                    $"The signing key {path} cannot be written: error {Marshal.GetLastPInvokeError()} of the system.");
        }
        finally
        {
            File.Delete(beside);
        }
    }

    /// <summary>POSIX link(2): gives a file one more name, and fails if that name exists.</summary>
    /// <returns>0; or -1, with the error of the system.</returns>
    [DllImport("libc", EntryPoint = "link", SetLastError = true)]
    private static extern int Link(byte[] existing, byte[] name);

    /// <summary>A path as the system reads it: UTF-8 with a zero at its end.</summary>
    private static byte[] Zeroed(string path) => Encoding.UTF8.GetBytes($"{path}\0");
}
