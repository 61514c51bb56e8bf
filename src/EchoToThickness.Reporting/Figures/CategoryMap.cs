using ScottPlot;

namespace EchoToThickness.Reporting.Figures;

/// <summary>A map of words instead of numbers: what became of each cell.</summary>
internal sealed record CategoryMap
{
    /// <summary>Title.</summary>
    public required string Title { get; init; }

    /// <summary>Words under the title.</summary>
    public string Subtitle { get; init; } = "";

    /// <summary>Scan positions.</summary>
    public required int Scans { get; init; }

    /// <summary>Beams.</summary>
    public required int Beams { get; init; }

    /// <summary>Shape [scan, beam]: category of each cell. Where a dot must stand for several cells it shows the largest.</summary>
    public required byte[] Categories { get; init; }

    /// <summary>Shape [category]: word and colour; categories that do not occur are not listed.</summary>
    public required IReadOnlyList<(string Word, Color Colour)> Legend { get; init; }

    /// <summary>Shape [scan]: positions, metres; null when unknown.</summary>
    public IReadOnlyList<double>? ScanPositionsMetres { get; init; }

    /// <summary>Shape [beam]: positions, metres; null when unknown.</summary>
    public IReadOnlyList<double>? IndexPositionsMetres { get; init; }
}
