using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Units;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Section <c>[placement]</c>: where lines lie, in place of what the grid says.</summary>
public sealed record PlacementPlan
{
    /// <summary>Direction.</summary>
    [ProcedureKey("direction", "How the lines run.")]
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
    [ProcedureKey("index_offset", "Added to all index positions.", Dimension.Length)]
    public double? IndexOffsetMetres { get; init; }

    /// <summary>The facts with what this section states on top.</summary>
    /// <param name="facts">Facts of the grid.</param>
    public LinePlacement Over(LinePlacement facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return new LinePlacement
        {
            Direction = Direction is { } direction ? (LineDirection)direction : facts.Direction,
            Origin = Origin is { } origin ? (LineOrigin)origin : facts.Origin,
            DatumMetres = DatumMetres ?? facts.DatumMetres,
            Track = Track is { } track ? (EncoderTrack)track : facts.Track,
            IndexOffsetMetres = IndexOffsetMetres ?? facts.IndexOffsetMetres,
        };
    }
}
