using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Mixscore.Page;

/// <summary>
/// The port at which a project's page usually is: the same each time, so that a browser knows it again, with what it keeps for
/// it, and a tablet's bookmark holds from night to night.
/// </summary>
internal static class UsualPort
{
    // Above what systems give out of themselves (Linux: 32768 to 60999), within the dynamic ports of RFC 6335.
    private const int First = 61000;
    private const int Count = 65536 - First;

    /// <param name="planFile">The project's plan, which tells it from others on the same machine.</param>
    internal static int Of(string planFile)
    {
        var hash = SHA256.HashData(Encoding.UTF8.GetBytes(Path.GetFullPath(planFile)));
        return First + (int)(BinaryPrimitives.ReadUInt32LittleEndian(hash) % Count);
    }
}
