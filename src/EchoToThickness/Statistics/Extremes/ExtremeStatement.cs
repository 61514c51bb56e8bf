namespace EchoToThickness.Statistics.Extremes;

/// <summary>What one method says about the smallest wall of the target area.</summary>
public sealed record ExtremeStatement
{
    /// <summary>Method and data, in words.</summary>
    public required string Label { get; init; }

    /// <summary>Distribution of the loss of one unit (a block, or the whole target for peaks), metres.</summary>
    public required GeneralisedExtremeValue Distribution { get; init; }

    /// <summary>Target area over unit area.</summary>
    public required double Units { get; init; }

    /// <summary>Wall that is undercut once in the target area on average, metres.</summary>
    public required double ReturnWallMetres { get; init; }

    /// <summary>Wall that the smallest undercuts with probability one half, metres.</summary>
    public required double MedianSmallestMetres { get; init; }

    /// <summary>The smallest wall lies above this with the stated confidence, uncertainty of the fit included (bootstrap-predictive), metres; can be below zero.</summary>
    public required double LowerBoundMetres { get; init; }

    /// <summary>The same without the uncertainty of the fit, for comparison, metres.</summary>
    public required double PlugInBoundMetres { get; init; }

    /// <summary>Intervals of the return wall, metres: delta, profile, bootstrap, where the method has them.</summary>
    public required IReadOnlyList<LevelInterval> Intervals { get; init; }

    /// <summary>Goodness of fit; null for weighed samples.</summary>
    public required GoodnessOfFit? Fit { get; init; }

    /// <summary>Values the fit rests on.</summary>
    public required int Count { get; init; }

    /// <summary>Whether cells were weighed by their wrong-echo probability.</summary>
    public required bool IsWeighed { get; init; }

    /// <summary>How far noise in the cells moves the bound to thinner walls, metres: <c>u^2 / (2 scale)</c>.</summary>
    public required double NoiseShiftMetres { get; init; }

    /// <summary>Root mean square of the noise of the cells the fit rests on, metres.</summary>
    public required double NoiseDeviationMetres { get; init; }

    /// <summary>
    /// Bound from a fit whose likelihood holds the noise (<see cref="NoisyTail"/>), metres: usually thicker, for information; null without noise, where
    /// noise is not known apart from the rest of the uncertainty, for weighed samples, and where the noise exceeds 0.7 of the scale: then no fit can tell it from the metal, and the bound stays the one with noise.
    /// </summary>
    public required double? DeconvolvedBoundMetres { get; init; }

    /// <summary>Bound with that shift taken out, metres; thicker, for information.</summary>
    public double NoiseRemovedBoundMetres => LowerBoundMetres + NoiseShiftMetres;
}
