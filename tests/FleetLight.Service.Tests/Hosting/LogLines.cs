using System.Collections.Concurrent;
using Microsoft.Extensions.Logging;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>Keeps what the service logs, from information on.</summary>
public sealed class LogLines : ILoggerProvider
{
    private readonly ConcurrentQueue<LogLine> lines = new();

    /// <summary>The lines so far.</summary>
    public IReadOnlyCollection<LogLine> All => lines;

    /// <inheritdoc/>
    public ILogger CreateLogger(string categoryName) => new Logger(categoryName, lines);

    /// <inheritdoc/>
    public void Dispose()
    {
    }

    private sealed class Logger(string category, ConcurrentQueue<LogLine> lines) : ILogger
    {
        public IDisposable? BeginScope<TState>(TState state) where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Information;

        public void Log<TState>(
            LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
        {
            if (IsEnabled(logLevel)) lines.Enqueue(new LogLine(logLevel, category, formatter(state, exception), exception));
        }
    }
}

/// <summary>What the service logged.</summary>
public sealed record LogLine(LogLevel Level, string Category, string Text, Exception? Fault);
