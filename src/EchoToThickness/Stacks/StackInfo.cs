namespace EchoToThickness.Stacks;

/// <summary>Everything about a stack but its samples. Immutable; checks itself once when made.</summary>
public sealed record StackInfo
{
    /// <summary>Name for messages: the file, and the group where a file holds several.</summary>
    public required string Name { get; init; }

    /// <summary>Extent <c>[scan, beam, sample]</c>.</summary>
    public required StackShape Shape { get; init; }

    /// <summary>Stored sample type.</summary>
    public required SampleType SampleType { get; init; }

    /// <summary>Sample index to seconds.</summary>
    public required TimeBase TimeBase { get; init; }

    /// <summary>Counts to fraction of full scale.</summary>
    public required AmplitudeScale Amplitude { get; init; }

    /// <summary>How the A-scans were taken.</summary>
    public AcquisitionFacts Acquisition { get; init; } = new();

    /// <summary>What was scanned.</summary>
    public ComponentFacts Component { get; init; } = new();

    /// <summary>Where the line lies on the component.</summary>
    public LinePlacement Placement { get; init; } = new();

    /// <summary>Which cells are side by side.</summary>
    public NeighbourAxes Neighbours { get; init; } = NeighbourAxes.Both;

    /// <summary>Shape [scan]: encoder position, metres; null when unknown.</summary>
    public IReadOnlyList<double>? ScanPositionsMetres { get; init; }

    /// <summary>Shape [beam]: index position, metres; null when unknown.</summary>
    public IReadOnlyList<double>? IndexPositionsMetres { get; init; }

    /// <summary>Bytes of one A-scan.</summary>
    public int AScanBytes => Shape.Samples * SampleType.SizeBytes();
}
