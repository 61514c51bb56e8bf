namespace EchoToThickness.Studies.Sources;

/// <summary>What is known of the cells of a block, shape [scan, beam] row by row.</summary>
public sealed record BlockTruth
{
    /// <summary>Wall on the beam axis, metres; NaN where not known.</summary>
    public required double[] ThicknessMetres { get; init; }

    /// <summary>Smallest wall under the aperture, metres; empty when not known.</summary>
    public double[] MinimumMetres { get; init; } = [];

    /// <summary>Cramér-Rao bound of the wall (standard deviation), metres; empty when there is none.</summary>
    public double[] BoundMetres { get; init; } = [];

    /// <summary>Number of the cluster that a cell belongs to, from 0.</summary>
    public required int[] Cluster { get; init; }

    /// <summary>Velocity in the metal, metres per second; null when not known.</summary>
    public double? VelocityMetresPerSecond { get; init; }

    /// <summary>Centre frequency, hertz; null when not known.</summary>
    public double? FrequencyHz { get; init; }
}
