using System.Security.Cryptography;
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
            File.Move(beside, path, overwrite: false);
        }
        catch (IOException) when (File.Exists(path))
        {
            // Another process has just created it; that key is used.
        }
        finally
        {
            File.Delete(beside);
        }
    }
}
