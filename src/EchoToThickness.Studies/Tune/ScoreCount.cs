namespace EchoToThickness.Studies.Tune;

/// <summary>Counts of a <see cref="WindowScore"/>.</summary>
internal enum ScoreCount
{
    /// <summary>Cells with an A-scan (and a known wall, where walls are known).</summary>
    Cells,

    /// <summary>Of these, with a thickness.</summary>
    Measured,

    /// <summary>Of these, held against a truth.</summary>
    Judged,

    /// <summary>Judged and not gross.</summary>
    Sound,
    GrossThick,
    GrossThin,
    Doubled,
    Halved,
    Skipped,
    InterfaceLost,
    Cycle,

    /// <summary>Sound cells with a stated uncertainty.</summary>
    Stated,
    Pits,
    PitsMissed,

    /// <summary>Measured or not: cells whose wall is sound even under the aperture.</summary>
    SoundMetal,
    FlaggedWrongly,

    /// <summary>Cells with both spacings.</summary>
    Both,
    Disagree,

    /// <summary>Pairs of true neighbours that are both measured.</summary>
    Neighbours,
    Jumps,

    /// <summary>Cells measured in two scans of one place.</summary>
    Repeats,
    RepeatsDiffer,

    /// <summary>Missing because no interface echo was found.</summary>
    NoInterface,
    End,
}
