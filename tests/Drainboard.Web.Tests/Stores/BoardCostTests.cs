using System.Diagnostics;
using Drainboard.Domain.Fleet;
using Drainboard.Testing;
using Drainboard.Testing.Databases;
using Drainboard.Web.Features.Board;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.Extensions.DependencyInjection;

namespace Drainboard.Web.Tests.Stores;

public sealed class BoardCostTests(Hosts hosts) : IClassFixture<Hosts>
{
    /// <summary>Ten statements once the layouts and the times of jobs are known (read once, or once in a while, by a process); not one more for another tail or defect.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Board_WhateverItShows_TakesTheSameFewStatements(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        await Station.OpenAsync(host);
        var before = await CountAsync(host);
        for (var more = 0; more < 5; more++)
        {
            await Station.OpenAsync(host, more % 2 == 0 ? "QQ-TSA" : "QQ-TSB", "K-2");
        }

        Assert.Equal(before, await CountAsync(host));

        // Three more than the reading of defects needs: whether anything was written since the last one, whether drinking water is served, and which planned checks are asked for (here none).
        Assert.Equal(10, before);
    }

    /// <summary>Whoever opens the same Board before anything is written costs one statement: whether anything was.</summary>
    [Theory]
    [ClassData(typeof(BothDatabases))]
    public async Task Board_OpenAlready_IsReadOnceForEverybody_UntilSomethingIsWritten(DatabaseKind kind)
    {
        var host = await hosts.OnAsync(kind);
        var (query, code) = (host.Services.GetRequiredService<BoardQuery>(), StationCode.Parse("QQAA"));
        // The program's own rounds write now and then too.
        var shared = false;
        for (var tries = 0; tries < 10 && !shared; tries++)
        {
            shared = ReferenceEquals(await query.ReadAsync(code, TestContext.Current.CancellationToken), await query.ReadAsync(code, TestContext.Current.CancellationToken));
        }

        Assert.True(shared);
        var defect = await Station.OpenAsync(host);
        Assert.Contains((await query.ReadAsync(code, TestContext.Current.CancellationToken))!.Cards.SelectMany(card => card.Items), item => $"{item.Id}" == defect);
    }

    private static async Task<int> CountAsync(DrainboardHost host)
    {
        var query = host.Services.GetRequiredService<BoardQuery>();
        var code = StationCode.Parse("QQAA");
        await query.ReadAsync(code, TestContext.Current.CancellationToken);
        // What another page has just read would be shared.
        host.Clock.AdvanceSeconds(11);
        var counter = new StatementCounter();
        using (DiagnosticListener.AllListeners.Subscribe(counter))
        {
            // A context that is used again remembers for a second that nobody listened.
            await Task.Delay(TimeSpan.FromSeconds(1.5), TestContext.Current.CancellationToken);

            // The feed reads the change table meanwhile, in a flow of its own; its statement is not the Board's and is not counted.
            await query.ReadAsync(code, TestContext.Current.CancellationToken);
        }

        return counter.Count;
    }

    private sealed class StatementCounter : IObserver<DiagnosticListener>, IObserver<KeyValuePair<string, object?>>
    {
        private readonly int _flow = Random.Shared.Next();
        private static readonly AsyncLocal<int> Flow = new();
        private int _count;

        public StatementCounter() => Flow.Value = _flow;

        public int Count => _count;

        public void OnNext(DiagnosticListener value)
        {
            if (value.Name == "Microsoft.EntityFrameworkCore")
            {
                value.Subscribe(this);
            }
        }

        public void OnNext(KeyValuePair<string, object?> value)
        {
            if (value.Key == RelationalEventId.CommandExecuting.Name && Flow.Value == _flow)
            {
                Interlocked.Increment(ref _count);
            }
        }

        public void OnCompleted()
        {
        }

        public void OnError(Exception error)
        {
        }
    }
}
