using System.Security.Cryptography;
using Microsoft.IdentityModel.Tokens;

namespace SetWeek.Service.Access;

/// <summary>The secret that signs tokens: 64 random bytes in a file that its owner alone can read.</summary>
public static class SigningKey
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <summary>Reads the key, making it first where there is none. A file that others can read is refused.</summary>
    /// <exception cref="InvalidOperationException">No key, or others may read it; the message says the cure.</exception>
    public static SymmetricSecurityKey ReadOrCreate(string path)
    {
        if (!File.Exists(path)) Create(path);
        if ((File.GetUnixFileMode(path) & ~OwnerOnly) != 0)
            throw new InvalidOperationException($"Others can read the signing key {path}; run: chmod 600 {path}");
        var key = Convert.FromBase64String(File.ReadAllText(path).Trim());
        return key.Length >= 32 ? new SymmetricSecurityKey(key)
            : throw new InvalidOperationException(
                $"The signing key {path} is shorter than 32 bytes; remove it to have one made.");
    }

    private static void Create(string path)
    {
        if (Path.GetDirectoryName(Path.GetFullPath(path)) is { } folder) Directory.CreateDirectory(folder);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write, UnixCreateMode = OwnerOnly };
        try
        {
            using var file = new StreamWriter(path, options);
            file.WriteLine(Convert.ToBase64String(RandomNumberGenerator.GetBytes(64)));
        }
        catch (IOException) when (File.Exists(path))
        {
            // Another process made it at the same moment; theirs serves.
        }
    }
}
