namespace EchoToThickness.Studies.Sources;

/// <summary>What is known of the cells of a block, shape [scan, beam] row by row.</summary>
public sealed record BlockTruth
{
    /// <summary>Wall on the beam axis, metres; NaN where not known.</summary>
    public required double[] ThicknessMetres { get; init; }

    /// <summary>Smallest wall under the aperture, metres; empty when not known.</summary>
    public double[] MinimumMetres { get; init; } = [];

    /// <summary>
    /// Cramér-Rao bounds of the wall (standard deviation), metres: the source's own choice, then those of <see cref="StudyFiles.BoundChoice"/> in
    /// its order; empty when there are none.
    /// </summary>
    public IReadOnlyList<double[]> BoundsMetres { get; init; } = [];

    /// <summary>One of the bounds; empty when there are none.</summary>
    /// <param name="choice">Which echoes it may use; null: the source's own choice.</param>
    public double[] BoundMetres(StudyFiles.BoundChoice? choice) =>
        BoundsMetres.Count == 0 ? [] : BoundsMetres[choice is { } known ? 1 + (int)known : 0];

    /// <summary>True path in the couplant by cell, metres; empty where it is not known. Not kept in finished pieces.</summary>
    public double[] CouplantPathMetres { get; init; } = [];

    /// <summary>What went wrong with each cell on purpose, bits of <see cref="Simulation.Scenes.PlantedFailure"/>; empty when not known.</summary>
    public uint[] Planted { get; init; } = [];

    /// <summary>Number of the cluster that a cell belongs to, from 0.</summary>
    public required int[] Cluster { get; init; }

    /// <summary>Velocity in the metal, metres per second; null when not known.</summary>
    public double? VelocityMetresPerSecond { get; init; }

    /// <summary>Centre frequency, hertz; null when not known.</summary>
    public double? FrequencyHz { get; init; }
}
