using System.Buffers;
using System.Diagnostics.CodeAnalysis;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.SignalR;
using Microsoft.AspNetCore.SignalR.Protocol;

namespace Drainboard.Benchmarks.Load;

/// <summary>What a live page speaks on its line: the framework's MessagePack protocol under the name that its hub asks for.</summary>
internal sealed class BlazorPack : IHubProtocol
{
    private readonly MessagePackHubProtocol _inner = new();

    public string Name => "blazorpack";

    public int Version => 1;

    public TransferFormat TransferFormat => TransferFormat.Binary;

    public bool IsVersionSupported(int version) => version == Version;

    public ReadOnlyMemory<byte> GetMessageBytes(HubMessage message) => _inner.GetMessageBytes(message);

    public bool TryParseMessage(ref ReadOnlySequence<byte> input, IInvocationBinder binder, [NotNullWhen(true)] out HubMessage? message) => _inner.TryParseMessage(ref input, binder, out message);

    public void WriteMessage(HubMessage message, IBufferWriter<byte> output) => _inner.WriteMessage(message, output);
}
