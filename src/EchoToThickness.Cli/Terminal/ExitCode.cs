namespace EchoToThickness.Cli.Terminal;

/// <summary>What the program tells the shell.</summary>
public static class ExitCode
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>It ran, but a check that was asked for failed.</summary>
    public const int CheckFailed = 1;

    /// <summary>It could not run: command line, files, settings, or a fault of the program.</summary>
    public const int CouldNotRun = 2;

    /// <summary>The user stopped it; nothing half-written is left.</summary>
    public const int Interrupted = 130;
}
