using EchoToThickness.Statistics.Describe;

namespace EchoToThickness.Statistics.Change;

/// <summary>Change between two surveys on the cells of the earlier one.</summary>
public sealed record ThicknessChange
{
    /// <summary>Settings in full.</summary>
    public required ChangeSettings Settings { get; init; }

    /// <summary>Shape [along, around]: earlier less later wall, metres, loss above zero; NaN where not measured in both.</summary>
    public required IReadOnlyList<double> LossMetres { get; init; }

    /// <summary>Shape [along, around]: its standard uncertainty; NaN where not measured in both.</summary>
    public required IReadOnlyList<double> UncertaintyMetres { get; init; }

    /// <summary>Shape [along, around]: whether the change is significant at the false-discovery rate.</summary>
    public required IReadOnlyList<bool> IsSignificant { get; init; }

    /// <summary>Cells compared.</summary>
    public required int Cells { get; init; }

    /// <summary>Cells with a significant change.</summary>
    public required int SignificantCells { get; init; }

    /// <summary>Area with a significant change, square metres.</summary>
    public required double SignificantAreaSquareMetres { get; init; }

    /// <summary>Shape [along, around]: loss a year, metres; NaN where not measured in both.</summary>
    public required IReadOnlyList<double> RateMetresPerYear { get; init; }

    /// <summary>Area-weighted moments of the rate.</summary>
    public required WeightedMoments Rate { get; init; }

    /// <summary>Deviation of the rate that the uncertainties do not explain, metres a year; 0 where they explain all.</summary>
    public required double TrueRateDeviationMetresPerYear { get; init; }

    /// <summary>Area-weighted quantiles of the rate: probability and metres a year.</summary>
    public required IReadOnlyList<(double Probability, double MetresPerYear)> RateQuantiles { get; init; }

    /// <summary>Share of the compared area where the wall seems to grow.</summary>
    public required double GrowingFraction { get; init; }
}
