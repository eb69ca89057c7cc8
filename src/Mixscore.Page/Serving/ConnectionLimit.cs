using System.Net;
using Microsoft.AspNetCore.Connections;

namespace Mixscore.Page;

/// <summary>No address takes more than its share of connections, so that none can keep the others out.</summary>
internal sealed class ConnectionLimit
{
    /// <summary>A browser needs six and a wire; twenty displays on this machine are let in at once. Our own figure.</summary>
    internal const int MostOfOne = 160;

    private readonly Dictionary<IPAddress, int> _open = [];
    private readonly Lock _gate = new();

    /// <summary>Lets a connection through, or cuts it.</summary>
    internal async Task PassAsync(ConnectionContext connection, ConnectionDelegate next)
    {
        var address = (connection.RemoteEndPoint as IPEndPoint)?.Address ?? IPAddress.None;
        if (!Enter(address))
        {
            connection.Abort();
            return;
        }
        try
        {
            await next(connection);
        }
        finally
        {
            Leave(address);
        }
    }

    private bool Enter(IPAddress address)
    {
        lock (_gate)
        {
            var open = _open.GetValueOrDefault(address);
            if (open >= MostOfOne) return false;
            _open[address] = open + 1;
            return true;
        }
    }

    private void Leave(IPAddress address)
    {
        lock (_gate)
        {
            if (--_open[address] == 0) _open.Remove(address);
        }
    }
}
