namespace EchoToThickness.Studies.Compare;

/// <summary>The figures by which methods are compared; names, units and meaning in <see cref="CompareFigures"/>.</summary>
public enum CompareFigure
{
    /// <summary>Cells off by more than the limit of gross, as a part of all cells.</summary>
    Gross,

    /// <summary>Gross and too thick, as a part of all cells.</summary>
    GrossThick,

    /// <summary>Gross and near twice the wall, as a part of all cells.</summary>
    Doubled,

    /// <summary>Gross and near half the wall, as a part of all cells.</summary>
    Halved,

    /// <summary>Off by more than an eighth of a wavelength, as a part of all cells.</summary>
    Cycle,

    /// <summary>Cells without a number, as a part of all cells.</summary>
    Missing,

    /// <summary>Mean error of measured cells.</summary>
    Bias,

    /// <summary>Standard deviation of the errors of measured cells.</summary>
    Deviation,

    /// <summary>Root mean square error of measured cells.</summary>
    Rmse,

    /// <summary>Root mean square error of measured cells that are not gross.</summary>
    RmseSound,

    /// <summary>95th percentile of the absolute error of measured cells.</summary>
    P95,

    /// <summary>Root mean square of error over bound, all measured cells.</summary>
    BoundRatio,

    /// <summary>Root mean square of error over bound, cells that are not gross.</summary>
    BoundRatioSound,

    /// <summary>Sound cells whose interval from noise alone holds the truth.</summary>
    NoiseCoverage,

    /// <summary>Sound cells whose combined interval holds the truth.</summary>
    Coverage,
}
