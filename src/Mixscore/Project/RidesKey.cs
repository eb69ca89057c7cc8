using System.Security.Cryptography;
using Mixscore.Planning;

namespace Mixscore.Project;

/// <summary>
/// Whether <c>out/rides.json</c> still stands. Beside the rides that it fits, Mixscore keeps what they were made of; rides
/// that a person changed, or that came from elsewhere, stand until the next <c>fit</c>.
/// </summary>
internal static class RidesKey
{
    internal static bool Stands(OpenProject project)
    {
        if (!File.Exists(project.Rides)) return false;
        if (!File.Exists(PathOf(project))) return true;
        var lines = File.ReadAllLines(PathOf(project));
        return lines.Length < 2 || lines[1] != Hash(project.Rides) || lines[0] == MadeOf(project);
    }

    internal static void Write(OpenProject project) => WholeFile.Write(PathOf(project), $"{MadeOf(project)}\n{Hash(project.Rides)}\n");

    private static string PathOf(OpenProject project) => Path.Combine(project.Out, "cache", "rides.key");

    /// <summary>What decides the rides: the plan, the score, the file that the tempo is from, the hall's, and what was measured of the stems.</summary>
    private static string MadeOf(OpenProject project)
    {
        string[] files = [project.Plan.File, InFolder(project.Plan.Score), project.Measures];
        if (project.Plan.TempoFrom is { } tempo) files = [.. files, InFolder(tempo.File)];
        if (project.Plan.Hall.Name is { } hall && HallFile.PathOf(project.Plan.Folder, hall) is var path && File.Exists(path)) files = [.. files, path];
        return Hash(files);

        string InFolder(string file) => Path.Combine(project.Plan.Folder, file);
    }

    /// <summary>A fingerprint of files, in hexadecimal.</summary>
    internal static string Hash(params string[] files)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var file in files) hash.AppendData(File.ReadAllBytes(file));
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
