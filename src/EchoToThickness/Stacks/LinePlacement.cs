namespace EchoToThickness.Stacks;

/// <summary>Where a scan line lies on the component. A fact that nobody stated is null, never a guess.</summary>
/// <remarks>
/// Positions along count downstream, on an elbow on the centre line of the bend from its start; positions around count from the extrados
/// (the zero line of a pipe, an edge of a plate), clockwise looking downstream, in metres of the outer girth.
/// </remarks>
public sealed record LinePlacement
{
    /// <summary>Along or around.</summary>
    public LineDirection? Direction { get; init; }

    /// <summary>Where positions along count from.</summary>
    public LineOrigin? Origin { get; init; }

    /// <summary>With <see cref="LineOrigin.Datum"/>: place of the datum along, metres from the start of the bend (plate, pipe: of the component).</summary>
    public double? DatumMetres { get; init; }

    /// <summary>The line on which the encoder's length is counted.</summary>
    public EncoderTrack? Track { get; init; }

    /// <summary>What is added to the stored index positions, metres; null for nothing.</summary>
    public double? IndexOffsetMetres { get; init; }
}
