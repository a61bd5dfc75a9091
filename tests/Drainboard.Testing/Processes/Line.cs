using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace Drainboard.Testing.Processes;

/// <summary>A network line to a port of this machine that can be cut, refused and made slow: what passes, passes through here.</summary>
public sealed class Line : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly ConcurrentDictionary<Socket, byte> _open = [];
    private readonly CancellationTokenSource _ending = new();
    private readonly Task _accepting;

    public Line(int to)
    {
        To = to;
        _listener.Start();
        _accepting = AcceptAsync();
    }

    public int Port => ((IPEndPoint)_listener.LocalEndpoint).Port;

    /// <summary>The port at its other end, for connections that are opened from now on.</summary>
    public int To { get; set; }

    /// <summary>So long each piece waits before it goes on, either way.</summary>
    public TimeSpan Delay { get; set; }

    /// <summary>Nothing new is let through; what is open stays.</summary>
    public bool IsDown { get; set; }

    /// <summary>What is open hangs: nothing passes, and nobody is told.</summary>
    public bool Hangs { get; set; }

    /// <summary>Every open connection ends at once, in the middle of whatever it carries.</summary>
    public void Cut()
    {
        foreach (var socket in _open.Keys)
        {
            socket.Close(0);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _ending.CancelAsync();
        _listener.Stop();
        Cut();
        await _accepting;
        _ending.Dispose();
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
            {
                var near = await _listener.AcceptSocketAsync(_ending.Token);
                _ = CarryAsync(near);
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // The line is taken away.
        }
    }

    private async Task CarryAsync(Socket near)
    {
        using var far = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        near.NoDelay = true;
        (_open[near], _open[far]) = (0, 0);
        try
        {
            if (!IsDown)
            {
                await far.ConnectAsync(IPAddress.Loopback, To, _ending.Token);
                await Task.WhenAny(PassAsync(near, far), PassAsync(far, near));
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // Cut, or nobody is at the other end.
        }

        _open.TryRemove(near, out _);
        _open.TryRemove(far, out _);
        near.Close(0);
    }

    private async Task PassAsync(Socket from, Socket to)
    {
        var bytes = new byte[16 * 1024];
        try
        {
            for (int read; (read = await from.ReceiveAsync(bytes, _ending.Token)) > 0;)
            {
                while (Hangs)
                {
                    await Task.Delay(20, _ending.Token);
                }

                if (Delay > TimeSpan.Zero)
                {
                    await Task.Delay(Delay, _ending.Token);
                }

                await to.SendAsync(bytes.AsMemory(0, read), _ending.Token);
            }
        }
        catch (Exception failure) when (failure is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // This direction has ended, and with it the whole.
        }
    }
}
