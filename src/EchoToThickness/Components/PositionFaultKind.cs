namespace EchoToThickness.Components;

/// <summary>What seems wrong with the positions of a line.</summary>
public enum PositionFaultKind
{
    /// <summary>The line as a whole lies further along (or back) than written.</summary>
    EncoderOffset,

    /// <summary>From a place on, the array was further than the encoder says: the wheel slipped.</summary>
    EncoderSlip,

    /// <summary>From a place on, the array was less far than the encoder says: the wheel spun, positions repeat.</summary>
    EncoderSpin,

    /// <summary>Written and true positions part evenly along the line: a wheel of another diameter than calibrated.</summary>
    EncoderDrift,

    /// <summary>The array went back over a stretch and forward again.</summary>
    Reversal,

    /// <summary>The whole line was scanned against its written direction.</summary>
    ReversedLine,

    /// <summary>The line is a second scan of another line.</summary>
    DuplicateLine,

    /// <summary>The line lies beside its written index.</summary>
    IndexStep,

    /// <summary>Scan positions without any A-scan.</summary>
    DroppedPositions,
}
