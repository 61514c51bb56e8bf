using System.Runtime.InteropServices;

namespace EchoToThickness.Cli.Terminal;

/// <summary>Turns Ctrl+C and a polite request to end into a cancellation, so that files are left whole; a second Ctrl+C ends at once.</summary>
public sealed class Interrupt : IDisposable
{
    private readonly CancellationTokenSource _source = new();
    private readonly PosixSignalRegistration _keyboard;
    private readonly PosixSignalRegistration _terminate;

    /// <summary>Starts listening.</summary>
    public Interrupt()
    {
        _keyboard = PosixSignalRegistration.Create(PosixSignal.SIGINT, Handle);
        _terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Handle);
    }

    /// <summary>Cancelled once the user asked to stop.</summary>
    public CancellationToken Token => _source.Token;

    /// <inheritdoc/>
    public void Dispose()
    {
        _keyboard.Dispose();
        _terminate.Dispose();
        _source.Dispose();
    }

    private void Handle(PosixSignalContext context)
    {
        context.Cancel = !_source.IsCancellationRequested;
        _source.Cancel();
    }
}
