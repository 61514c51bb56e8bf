namespace EchoToThickness.Reporting.Figures;

/// <summary>What a map is drawn from: one value and one status a cell, and where the cells lie.</summary>
public sealed record MapImage
{
    /// <summary>Heading.</summary>
    public required string Title { get; init; }

    /// <summary>Second line under the heading; may be empty.</summary>
    public string Subtitle { get; init; } = "";

    /// <summary>Scan positions.</summary>
    public required int Scans { get; init; }

    /// <summary>Beams.</summary>
    public required int Beams { get; init; }

    /// <summary>Shape [scan, beam]: metres; NaN where not measured.</summary>
    public required float[] ValuesMetres { get; init; }

    /// <summary>Shape [scan, beam]: values of <see cref="Pairing.CellStatus"/>.</summary>
    public required byte[] Status { get; init; }

    /// <summary>Shape [scan]: position along the scan axis, metres; null when unknown (then cells are numbered).</summary>
    public IReadOnlyList<double>? ScanPositionsMetres { get; init; }

    /// <summary>Shape [beam]: position along the index axis, metres; null when unknown (then cells are numbered).</summary>
    public IReadOnlyList<double>? IndexPositionsMetres { get; init; }

    /// <summary>What the horizontal axis shows.</summary>
    public string ScanName { get; init; } = "scan axis";

    /// <summary>What the vertical axis shows.</summary>
    public string IndexName { get; init; } = "index axis";

    /// <summary>Places on the vertical axis with a word, such as the extrados; empty for plain numbers.</summary>
    public IReadOnlyList<(double Metres, string Word)> IndexMarks { get; init; } = [];

    /// <summary>Limit to mark, metres; null for none.</summary>
    public double? LimitMetres { get; init; }

    /// <summary>Shape [scan, beam]: number of the region a cell belongs to, 0 outside; regions are outlined in place of the limit. Null for none.</summary>
    public int[]? Regions { get; init; }

    /// <summary>Numbers written on the map: cell on the scan axis, cell on the index axis, word.</summary>
    public IReadOnlyList<(int Scan, int Beam, string Word)> RegionWords { get; init; } = [];

    /// <summary>Words under the map, such as the datum; may be empty.</summary>
    public string Caption { get; init; } = "";

    /// <summary>Names and values kept inside the file, not drawn.</summary>
    public IReadOnlyList<(string Name, string Value)> Notes { get; init; } = [];

    /// <summary>Smallest value of the colour scale, metres; null: the smallest in the map.</summary>
    public double? ScaleMinimumMetres { get; init; }

    /// <summary>Largest value of the colour scale, metres; null: the largest in the map.</summary>
    public double? ScaleMaximumMetres { get; init; }
}
