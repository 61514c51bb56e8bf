using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>What can be made small. Rates are parts of all cells with an A-scan (and a known wall).</summary>
public enum TuneFigure
{
    /// <summary>Gross errors.</summary>
    [Choice("gross", "Gross errors, part of all cells.")]
    Gross,

    /// <summary>Gross and too thick.</summary>
    [Choice("gross-thick", "Gross errors that read too thick, the dangerous side.")]
    GrossThick,

    /// <summary>Near half the wall.</summary>
    [Choice("halved", "Gross errors near half the wall.")]
    Halved,

    /// <summary>Near twice the wall.</summary>
    [Choice("doubled", "Gross errors near twice the wall.")]
    Doubled,

    /// <summary>Near another ratio of small numbers.</summary>
    [Choice("skipped", "Gross errors near 3/2, 4/3, 2/3, 3/4, 3, 4, 1/3 or 1/4 of the wall: echoes counted wrongly.")]
    Skipped,

    /// <summary>The zero was wrong.</summary>
    [Choice(
        "interface-lost",
        "Gross errors whose interface is off by more than the gross limit; needs the true couplant path."
    )]
    InterfaceLost,

    /// <summary>Off by more than an eighth of a wavelength.</summary>
    [Choice("cycle", "Errors of more than an eighth of a wavelength; gross ones are among them.")]
    Cycle,

    /// <summary>No wall.</summary>
    [Choice("missing", "Cells without a wall, whatever the reason.")]
    Missing,

    /// <summary>Mean error.</summary>
    [Choice("bias", "Mean error of the cells that are not gross, without its sign.")]
    Bias,

    /// <summary>Root mean square error.</summary>
    [Choice("rmse", "Root mean square error of all measured cells, gross ones included.")]
    Rmse,

    /// <summary>The same without gross errors.</summary>
    [Choice("rmse-sound", "Root mean square error of the measured cells that are not gross.")]
    RmseSound,

    /// <summary>95th percentile.</summary>
    [Choice("p95", "95th percentile of the absolute error of all measured cells.")]
    P95,

    /// <summary>Pits not seen.</summary>
    [Choice("pits-missed", "Pits of which no cell is flagged, part of all pits.")]
    PitsMissed,

    /// <summary>Sound cells flagged.</summary>
    [Choice("flagged-wrongly", "Cells flagged although their wall is sound, part of all sound cells.")]
    FlaggedWrongly,

    /// <summary>Uncertainty against error.</summary>
    [Choice(
        "calibration",
        "Stated uncertainty against error: logarithm of the root mean square of error over uncertainty, without its sign; not gross cells."
    )]
    Calibration,

    /// <summary>Two spacings differ.</summary>
    [Choice(
        "disagreement",
        "Without truth: cells whose spacings from interface to wall and from wall to wall differ, part of those that have both."
    )]
    Disagreement,

    /// <summary>Neighbours differ.</summary>
    [Choice(
        "jumps",
        "Without truth: true neighbours whose walls differ grossly, part of the pairs that are both measured. Real steps count too."
    )]
    Jumps,

    /// <summary>Two scans differ.</summary>
    [Choice(
        "repeatability",
        "Without truth: cells of two scans of the same place that differ, part of those measured in both; needs a [[repeat]]."
    )]
    Repeatability,
}
