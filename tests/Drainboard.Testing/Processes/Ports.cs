using System.Net;
using System.Net.Sockets;

namespace Drainboard.Testing.Processes;

/// <summary>Ports of this machine that nobody listens on.</summary>
public static class Ports
{
    public static int Free()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
