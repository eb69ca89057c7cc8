using System.Net;
using System.Net.Sockets;

namespace Mixscore.Protocols.Transports;

/// <summary>Opening sockets, and telling in words why one cannot be.</summary>
internal static class Sockets
{
    // How long Dispose waits for a receiving thread; a handler that takes longer is not waited for.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    internal static Socket Udp(IPEndPoint local) => Open(local, SocketType.Dgram, ProtocolType.Udp, socket => socket.Bind(local));

    internal static Socket TcpListener(IPEndPoint local) => Open(local, SocketType.Stream, ProtocolType.Tcp, socket =>
    {
        socket.Bind(local);
        socket.Listen();
    });

    internal static Socket Tcp(IPEndPoint remote, TimeSpan patience) => Open(remote, SocketType.Stream, ProtocolType.Tcp, socket =>
    {
        socket.NoDelay = true;
        var connecting = socket.ConnectAsync(remote);
        if (!Task.WaitAny([connecting], patience).Equals(0)) throw new SocketException((int)SocketError.TimedOut);
        connecting.GetAwaiter().GetResult();
    });

    internal static Thread Listen(string name, ThreadStart loop)
    {
        var thread = new Thread(loop) { IsBackground = true, Name = name };
        thread.Start();
        return thread;
    }

    // A handler may dispose of the transport that called it.
    internal static void WaitFor(Thread thread)
    {
        if (thread != Thread.CurrentThread) thread.Join(Patience);
    }

    private static Socket Open(IPEndPoint end, SocketType type, ProtocolType protocol, Action<Socket> open)
    {
        var socket = new Socket(end.AddressFamily, type, protocol);
        try
        {
            open(socket);
            return socket;
        }
        catch (SocketException problem)
        {
            socket.Dispose();
            throw new IOException($"{protocol.ToString().ToUpperInvariant()} {end} is not available: {problem.Message}", problem);
        }
    }
}
