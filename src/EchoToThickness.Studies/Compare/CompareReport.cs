using EchoToThickness.Studies.Drawings;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Compare;

/// <summary>The result of a comparison. Holds nothing that depends on the moment, the machine or the number of threads.</summary>
public sealed record CompareReport
{
    /// <summary>The study.</summary>
    public required CompareStudy Study { get; init; }

    /// <summary>SHA-256 of the study with all defaults.</summary>
    public required string StudySha256 { get; init; }

    /// <summary>Methods: name and SHA-256 of the procedure.</summary>
    public required IReadOnlyList<(string Name, string ProcedureSha256)> Methods { get; init; }

    /// <summary>Rows by group, source by source (all, margins, bands, points), methods in the order of the study.</summary>
    public required IReadOnlyList<CompareRow> Rows { get; init; }

    /// <summary>Paired tests against the reference, for sources and points.</summary>
    public required IReadOnlyList<PairedRow> Paired { get; init; }

    /// <summary>Thresholds, for every source with a sweep of the signal-to-noise ratio.</summary>
    public required IReadOnlyList<ThresholdRow> Thresholds { get; init; }

    /// <summary>Stated against observed chance of a wrong echo, for every source and method that states one.</summary>
    public required IReadOnlyList<ReliabilityRow> Reliability { get; init; }

    /// <summary>Where scans of reference blocks lie on their drawings, line by line.</summary>
    public IReadOnlyList<(string Scan, string Block, DrawingRegistration Place)> Registrations { get; init; } = [];

    /// <summary>Rows of one kind.</summary>
    /// <param name="kind">The kind.</param>
    public IEnumerable<CompareRow> Of(GroupKind kind) => Rows.Where(r => r.Group.Kind == kind);
}
