namespace EchoToThickness.Stacks.Sanity;

/// <summary>What a finding is about.</summary>
public enum SanityCheck
{
    /// <summary>Samples that are NaN or infinite.</summary>
    NonFiniteSamples,

    /// <summary>A-scans whose samples are all zero.</summary>
    AllZeroAScans,

    /// <summary>A-scans whose samples are all equal, but not zero.</summary>
    ConstantAScans,

    /// <summary>Runs of samples at a rail of the digitiser.</summary>
    Saturated,

    /// <summary>Offset binary read as signed integers, or signed integers read as unsigned: the values wrap round.</summary>
    OffsetBinary,

    /// <summary>The quiet level is not the declared zero level.</summary>
    ZeroLevel,

    /// <summary>The samples are rectified but declared as radio frequency.</summary>
    RectifiedSamples,

    /// <summary>The samples have both signs but are declared as rectified.</summary>
    SignedSamples,

    /// <summary>Time, or a rate, in another unit than declared (microseconds for seconds, megahertz for hertz).</summary>
    TimeUnit,

    /// <summary>A position, frequency or velocity in another unit than declared.</summary>
    FactUnit,

    /// <summary>The time base is that of half the path (or of twice the path).</summary>
    HalfPath,

    /// <summary>Fewer than four samples a period.</summary>
    CoarseSampling,

    /// <summary>The record ends before the second back-wall echo.</summary>
    ShortTimeBase,

    /// <summary>The axes are in another order than declared.</summary>
    TransposedAxes,

    /// <summary>Cells declared as neighbours do not look like neighbours.</summary>
    UnrelatedNeighbours,

    /// <summary>Beams with far less signal than the others.</summary>
    DeadBeams,

    /// <summary>The gain changes between scan positions or lines.</summary>
    GainStep,

    /// <summary>The same position twice.</summary>
    DuplicatePositions,

    /// <summary>The encoder runs backwards for part of the line.</summary>
    BackwardEncoder,

    /// <summary>Positions that are NaN or infinite.</summary>
    NonFinitePositions,

    /// <summary>The longitudinal velocity is too low for the shear velocity: one stands for the other.</summary>
    MixedVelocities,
}
