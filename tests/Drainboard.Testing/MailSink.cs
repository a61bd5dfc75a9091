using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;
using SmtpServer;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace Drainboard.Testing;

/// <summary>A real mail server on this machine that keeps what it is sent.</summary>
public sealed class MailSink : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Store _store = new();
    private readonly Task _running;

    public MailSink()
    {
        using (var probe = new TcpListener(IPAddress.Loopback, 0))
        {
            probe.Start();
            Port = ((IPEndPoint)probe.LocalEndpoint).Port;
        }

        var services = new SmtpServer.ComponentModel.ServiceProvider();
        services.Add(_store);
        _running = new SmtpServer.SmtpServer(new SmtpServerOptionsBuilder().ServerName("localhost").Port(Port).Build(), services).StartAsync(_stop.Token);
    }

    public int Port { get; }

    /// <summary>The raw messages, oldest first.</summary>
    public IReadOnlyList<string> Messages => [.. _store.Received];

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        try
        {
            await _running;
        }
        catch (OperationCanceledException)
        {
            // It was told to stop.
        }

        _stop.Dispose();
    }

    private sealed class Store : MessageStore
    {
        public ConcurrentQueue<string> Received { get; } = [];

        public override Task<SmtpResponse> SaveAsync(ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
        {
            Received.Enqueue(Encoding.UTF8.GetString(buffer.ToArray()));
            return Task.FromResult(SmtpResponse.Ok);
        }
    }
}
