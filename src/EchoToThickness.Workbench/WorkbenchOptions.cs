namespace EchoToThickness.Workbench;

/// <summary>What the workbench opens and what it allows.</summary>
public sealed record WorkbenchOptions
{
    /// <summary>Stack as the user typed it.</summary>
    public required string StackPath { get; init; }

    /// <summary>Layout map; null for a native stack.</summary>
    public string? LayoutPath { get; init; }

    /// <summary>Scan line, where the stack holds several; null for the only one.</summary>
    public string? Line { get; init; }

    /// <summary>Procedure to begin with; null for the defaults.</summary>
    public string? ProcedurePath { get; init; }

    /// <summary>Grid measured earlier, to compare with; null for none.</summary>
    public string? GridPath { get; init; }

    /// <summary>Port on the loopback address; 0 for any that is free.</summary>
    public int Port { get; init; }

    /// <summary>Samples are kept in memory when they take no more than this, else read from the disk each time.</summary>
    public long MemoryBytes { get; init; } = 1L << 30;

    /// <summary>Worker threads; 0 for one a processor.</summary>
    public int Threads { get; init; }

    /// <summary>Version of the program, for the page.</summary>
    public string ProgramVersion { get; init; } = "";

    /// <summary>Largest body of a request, bytes.</summary>
    public int LargestRequestBytes { get; init; } = 256 * 1024;

    /// <summary>A body that has not arrived after this long is refused, seconds.</summary>
    public double SlowestBodySeconds { get; init; } = 5;
}
