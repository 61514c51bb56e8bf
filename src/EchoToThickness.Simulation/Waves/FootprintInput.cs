namespace EchoToThickness.Simulation.Waves;

/// <summary>What the footprint sum runs over.</summary>
internal readonly ref struct FootprintInput
{
    /// <summary>Shape [row, point], padded as <see cref="Inner"/>: metres of metal beyond the reference.</summary>
    public ReadOnlySpan<float> Heights { get; init; }

    /// <summary>Shape [row, point], padded with zeros.</summary>
    public ReadOnlySpan<float> Weights { get; init; }

    /// <summary>Squared field along a row.</summary>
    public FieldSamples Inner { get; init; }

    /// <summary>Squared field across the rows.</summary>
    public FieldSamples Outer { get; init; }

    /// <summary>Phase of a metre at the first frequency, radians.</summary>
    public float FirstRadiansPerMetre { get; init; }

    /// <summary>Its growth from one term to the next, radians.</summary>
    public float StepRadiansPerMetre { get; init; }

    /// <summary>Frequencies of the grid from one term to the next.</summary>
    public int Stride { get; init; }

    /// <summary>Terms.</summary>
    public int Terms { get; init; }
}
