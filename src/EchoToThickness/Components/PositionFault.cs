namespace EchoToThickness.Components;

/// <summary>A fault of positions.</summary>
public sealed record PositionFault
{
    /// <summary>What.</summary>
    public required PositionFaultKind Kind { get; init; }

    /// <summary>The line, by its place in the list of lines.</summary>
    public required int Line { get; init; }

    /// <summary>The other line it was found against; -1 for none.</summary>
    public int Against { get; init; } = -1;

    /// <summary>First scan position concerned.</summary>
    public int FirstScan { get; init; }

    /// <summary>Scan positions concerned; 0 for all behind the first.</summary>
    public int Scans { get; init; }

    /// <summary>True less written position, metres: on the encoder's track, or across it for <see cref="PositionFaultKind.IndexStep"/>.</summary>
    public double SizeMetres { get; init; }

    /// <summary>Logarithm of the likelihood gained by the fault over none; 0 where it was counted and not inferred.</summary>
    public double Evidence { get; init; }

    /// <summary>False where the overlap cannot tell which of the two lines is at fault.</summary>
    public bool IsAttributed { get; init; } = true;

    /// <summary>In words, with sizes and units.</summary>
    public required string Words { get; init; }
}
