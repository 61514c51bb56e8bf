using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Section <c>[samples]</c>: where the A-scans are and how their numbers count.</summary>
public sealed record SamplesLayout
{
    /// <summary>Dataset path.</summary>
    [ProcedureKey("dataset", "HDF5: dataset of the A-scans; a path without leading '/' counts from each of groups.")]
    public string? Dataset { get; init; }

    /// <summary>Axes in file order.</summary>
    [ProcedureKey(
        "axes",
        "Axes in the order of the file, slowest first. A missing scan or beam axis has extent 1. In a folder, axes of one file: with 'scan' each file is a line, without it each file is one scan position."
    )]
    public IReadOnlyList<StoredAxis> Axes { get; init; } = [StoredAxis.Scan, StoredAxis.Beam, StoredAxis.Sample];

    /// <summary>Beams within a cell axis.</summary>
    [ProcedureKey("beams", "Beams of a scan position, where axes holds 'cell'.", Minimum = 1)]
    public int? Beams { get; init; }

    /// <summary>Axes stored in reverse order.</summary>
    [ProcedureKey(
        "reversed",
        "Axes stored last element first, such as [\"beam\"] for an array mounted the other way round."
    )]
    public IReadOnlyList<StoredAxis> Reversed { get; init; } = [];

    /// <summary>Whether the sign is turned over.</summary>
    [ProcedureKey("invert", "Turn the sign of the samples over about the zero level.")]
    public bool Invert { get; init; }

    /// <summary>Counts of silence.</summary>
    [ProcedureKey(
        "zero",
        "Counts that mean no signal; left out: 128 and 32768 for unsigned 8 and 16 bits, else 0. Offset binary of 12 bits: 2048."
    )]
    public double? ZeroCounts { get; init; }

    /// <summary>Counts of full scale.</summary>
    [ProcedureKey(
        "full_scale",
        "Counts from zero to full scale; left out: half the range of the type, 1 for floating point.",
        Minimum = 0
    )]
    public double? FullScaleCounts { get; init; }

    /// <summary>Lower rail.</summary>
    [ProcedureKey(
        "lower_rail",
        "Lowest count of the digitiser; left out: lowest of the type, unknown for floating point."
    )]
    public double? LowerRailCounts { get; init; }

    /// <summary>Upper rail.</summary>
    [ProcedureKey(
        "upper_rail",
        "Highest count of the digitiser; left out: highest of the type, unknown for floating point."
    )]
    public double? UpperRailCounts { get; init; }

    /// <summary>Neighbourhood.</summary>
    [ProcedureKey("neighbours", "Along which axes cells lie side by side on the metal.")]
    public StoredNeighbours Neighbours { get; init; } = StoredNeighbours.Both;

    /// <summary>Presence mask.</summary>
    [ProcedureKey("present", "Dataset over the cells: 0 where no A-scan was recorded.")]
    public ValueSource? Present { get; init; }

    /// <summary>Raw sample type.</summary>
    [ProcedureKey("type", "Raw files: sample type.")]
    public StoredSampleType? Type { get; init; }

    /// <summary>Raw byte order.</summary>
    [ProcedureKey("byte_order", "Raw files: byte order.")]
    public StoredByteOrder ByteOrder { get; init; } = StoredByteOrder.Little;

    /// <summary>Raw header.</summary>
    [ProcedureKey("header_bytes", "Raw files: bytes ahead of the first sample.", Minimum = 0)]
    public long HeaderBytes { get; init; }

    /// <summary>Raw extents.</summary>
    [ProcedureKey(
        "extent",
        "Raw files: extents in the order of axes; one may be 0 and is then taken from the length of the file."
    )]
    public IReadOnlyList<int> Extent { get; init; } = [];
}
