using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>An entry <c>[[line]]</c>: facts of one line in place of those of the grid and of <c>[placement]</c>.</summary>
public sealed record LinePlan
{
    /// <summary>Name.</summary>
    [ProcedureKey("name", "Name of the line in the grid.", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>Whether the line takes part.</summary>
    [ProcedureKey("use", "Whether the line takes part; false leaves out a line scanned twice or in the wrong place.")]
    public bool Use { get; init; } = true;

    /// <summary>Reversed.</summary>
    [ProcedureKey(
        "reversed",
        "The line was scanned against its written direction: its positions are turned end for end."
    )]
    public bool Reversed { get; init; }

    /// <summary>Scan offset.</summary>
    [ProcedureKey("scan_offset", "Added to all encoder positions of the line.", Dimension.Length)]
    public double ScanOffsetMetres { get; init; }

    /// <summary>Direction.</summary>
    [ProcedureKey("direction", "How the line runs.")]
    public PlanDirection? Direction { get; init; }

    /// <summary>Origin.</summary>
    [ProcedureKey("origin", "Where positions along count from.")]
    public PlanOrigin? Origin { get; init; }

    /// <summary>Datum.</summary>
    [ProcedureKey("datum", "Place of the datum along, from the start of the bend.", Dimension.Length)]
    public double? DatumMetres { get; init; }

    /// <summary>Track.</summary>
    [ProcedureKey("track", "The length that the encoder counts on a bend.")]
    public PlanTrack? Track { get; init; }

    /// <summary>Index offset.</summary>
    [ProcedureKey("index_offset", "Added to all index positions of the line.", Dimension.Length)]
    public double? IndexOffsetMetres { get; init; }

    /// <summary>The facts with what this entry states on top.</summary>
    /// <param name="facts">Facts of the grid and of <c>[placement]</c>.</param>
    public LinePlacement Over(LinePlacement facts) =>
        new PlacementPlan
        {
            Direction = Direction,
            Origin = Origin,
            DatumMetres = DatumMetres,
            Track = Track,
            IndexOffsetMetres = IndexOffsetMetres,
        }.Over(facts);

    /// <summary>Encoder positions as the entry puts them.</summary>
    /// <param name="written">Positions as written.</param>
    public IReadOnlyList<double> Positions(IReadOnlyList<double> written)
    {
        ArgumentNullException.ThrowIfNull(written);
        if (!Reversed && ScanOffsetMetres == 0)
            return written;
        double ends = written[0] + written[^1];
        return [.. written.Select(x => (Reversed ? ends - x : x) + ScanOffsetMetres)];
    }
}
