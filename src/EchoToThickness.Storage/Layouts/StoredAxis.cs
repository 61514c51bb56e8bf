using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>What one axis of a foreign array counts.</summary>
public enum StoredAxis
{
    /// <summary>Positions along the scan axis.</summary>
    [Choice("scan", "Positions along the encoded travel.")]
    Scan,

    /// <summary>Beams of the array.</summary>
    [Choice("beam", "Beams (focal laws) of the array.")]
    Beam,

    /// <summary>Samples of one A-scan.</summary>
    [Choice("sample", "Samples of one A-scan.")]
    Sample,

    /// <summary>Scan positions and beams in one axis, all beams of a scan position together.</summary>
    [Choice("cell", "Scan positions and beams in one axis, all beams of a scan position together; give beams.")]
    Cell,

    /// <summary>An axis of extent 1.</summary>
    [Choice("single", "An axis of extent 1 that means nothing.")]
    Single,
}
