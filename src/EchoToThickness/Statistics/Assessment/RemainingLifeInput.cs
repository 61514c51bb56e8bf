namespace EchoToThickness.Statistics.Assessment;

/// <summary>Input of a remaining life.</summary>
public sealed record RemainingLifeInput
{
    /// <summary>Present wall, metres: the measured minimum, never the bias-corrected one.</summary>
    public required double WallMetres { get; init; }

    /// <summary>Its standard uncertainty.</summary>
    public double WallUncertaintyMetres { get; init; }

    /// <summary>Required wall, metres.</summary>
    public required double RequiredWallMetres { get; init; }

    /// <summary>Its standard uncertainty (pressure, stress).</summary>
    public double RequiredWallUncertaintyMetres { get; init; }

    /// <summary>Rate.</summary>
    public required CorrosionRate Rate { get; init; }

    /// <summary>Confidence of the two-sided interval.</summary>
    public double Confidence { get; init; } = 0.95;

    /// <summary>Random draws.</summary>
    public int Draws { get; init; } = 20_000;

    /// <summary>Seed.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Longest interval of the inspection class, years; 0 for none.</summary>
    public double ClassLimitYears { get; init; }
}
