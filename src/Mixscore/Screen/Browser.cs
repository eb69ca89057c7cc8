using System.ComponentModel;
using System.Diagnostics;

namespace Mixscore.Screen;

/// <summary>The person's own browser.</summary>
internal static class Browser
{
    /// <summary>Opens an address; where there is no browser the address that was printed must do.</summary>
    internal static void Open(Uri address)
    {
        try
        {
            using var _ = Process.Start(new ProcessStartInfo(address.ToString()) { UseShellExecute = true });
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException or PlatformNotSupportedException)
        {
            // A machine without a desktop.
        }
    }
}
