namespace Mixscore.Page;

/// <summary>The plan's file as an editing session has it; a test may put a disk in its place that is full.</summary>
internal interface IPlanFile
{
    /// <summary>Its text; <c>null</c> where it is gone.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be read.</exception>
    string? Read();

    /// <summary>Writes it, whole or not at all.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be written.</exception>
    void Write(string text);

    /// <summary>Writes a text beside it, or where the folder refuses in the system's folder for what is temporary.</summary>
    /// <returns>The file.</returns>
    /// <exception cref="IOException">Neither takes it.</exception>
    /// <exception cref="UnauthorizedAccessException">Neither takes it.</exception>
    string WriteBeside(string text, DateTimeOffset now);
}
