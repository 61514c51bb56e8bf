using System.Text.Json.Serialization;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Change;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Change from one earlier survey to the one that is analysed.</summary>
public sealed record SurveyChange
{
    /// <summary>Earlier grid, without folder.</summary>
    public required string Grid { get; init; }

    /// <summary>Its SHA-256.</summary>
    public required string GridSha256 { get; init; }

    /// <summary>Day of the earlier survey.</summary>
    public required string Date { get; init; }

    /// <summary>Years between.</summary>
    public required double Years { get; init; }

    /// <summary>"long-term" from the first survey, "short-term" from the last but one, "in between" for others; "long- and short-term" where there is one earlier survey.</summary>
    public required string Term { get; init; }

    /// <summary>Where the correlation lays this survey on the earlier one.</summary>
    public required Registration Registration { get; init; }

    /// <summary>Whether it was laid there; else the datum decided.</summary>
    public required bool IsRegistered { get; init; }

    /// <summary>Standard uncertainty of places reckoned with.</summary>
    public required double PlacementUncertaintyMetres { get; init; }

    /// <summary>Cells compared.</summary>
    public required int Cells { get; init; }

    /// <summary>Cells with a significant change.</summary>
    public required int SignificantCells { get; init; }

    /// <summary>Their area.</summary>
    public required double SignificantAreaSquareMetres { get; init; }

    /// <summary>Quantiles of the rate over the area, noise included.</summary>
    public required IReadOnlyList<RateQuantile> RateQuantiles { get; init; }

    /// <summary>Rates by zone, the whole last.</summary>
    public required IReadOnlyList<RateSummary> Zones { get; init; }

    /// <summary>The fields, cell by cell; not part of the JSON file.</summary>
    [JsonIgnore]
    public required ThicknessChange Field { get; init; }

    /// <summary>The earlier map on whose cells the fields lie.</summary>
    [JsonIgnore]
    public required ThicknessMap Earlier { get; init; }
}
