using System.Globalization;
using System.Text;

namespace Mixscore.Page;

/// <summary>The plan's file on disk.</summary>
/// <param name="path">The file.</param>
internal sealed class PlanOnDisk(string path) : IPlanFile
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    public string? Read()
    {
        try
        {
            return Utf8.GetString(File.ReadAllBytes(path));
        }
        catch (Exception gone) when (gone is FileNotFoundException or DirectoryNotFoundException)
        {
            return null;
        }
    }

    public void Write(string text)
    {
        // A file that is put in its place would not ask whether it may be written.
        if (File.Exists(path) && File.GetAttributes(path).HasFlag(FileAttributes.ReadOnly)) throw new UnauthorizedAccessException($"{Path.GetFileName(path)} may only be read.");
        var beside = $"{path}.{Guid.NewGuid():N}.tmp";
        try
        {
            File.WriteAllText(beside, text, Utf8);
            File.Move(beside, path, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }

    public string WriteBeside(string text, DateTimeOffset now)
    {
        // Not *.mix.yaml: a folder with two plans would have to be asked which.
        var name = $"{Path.GetFileName(path)}.kept-{now.ToString("yyyy-MM-dd'T'HH-mm-ss", CultureInfo.InvariantCulture)}";
        var kept = Path.Combine(Path.GetDirectoryName(path)!, name);
        try
        {
            File.WriteAllText(kept, text, Utf8);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            kept = Path.Combine(Path.GetTempPath(), name);
            File.WriteAllText(kept, text, Utf8);
        }
        return kept;
    }
}
