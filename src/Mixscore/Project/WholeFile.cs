namespace Mixscore.Project;

/// <summary>Files appear whole or not at all, and a file that would not change is left alone.</summary>
internal static class WholeFile
{
    internal static void Write(string path, string text) => Write(path, System.Text.Encoding.UTF8.GetBytes(text));

    internal static void Write(string path, byte[] bytes)
    {
        if (File.Exists(path) && new FileInfo(path).Length == bytes.Length && File.ReadAllBytes(path).AsSpan().SequenceEqual(bytes)) return;
        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
        var beside = path + ".part";
        try
        {
            File.WriteAllBytes(beside, bytes);
            File.Move(beside, path, overwrite: true);
        }
        catch
        {
            File.Delete(beside);
            throw;
        }
    }
}
