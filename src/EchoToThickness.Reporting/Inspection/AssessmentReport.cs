using EchoToThickness.Statistics.Assessment;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Screening figures; every one carries its formula, edition and what it needs, or the reason why it was refused.</summary>
public sealed record AssessmentReport
{
    /// <summary>Said of everything below.</summary>
    public string Caution { get; init; } = AssessmentBasis.Caution;

    /// <summary>Required wall by place.</summary>
    public required IReadOnlyDictionary<string, AssessmentResult<RequiredWall>> RequiredWalls { get; init; }

    /// <summary>Measured minimum and required wall by zone.</summary>
    public required IReadOnlyList<ZoneWall> Zones { get; init; }

    /// <summary>River-bottom profile along and its remaining strength, then around; empty when not asked for.</summary>
    public required IReadOnlyList<ProfileStrength> Profiles { get; init; }

    /// <summary>Remaining strength of the regions, taken together as they interact; empty when not asked for.</summary>
    public required IReadOnlyList<RegionStrength> Regions { get; init; }

    /// <summary>Thickness averaging along and around; empty when not asked for.</summary>
    public required IReadOnlyList<ProfileAverage> Averages { get; init; }

    /// <summary>Remaining life by zone; empty when not asked for.</summary>
    public required IReadOnlyList<ZoneLife> Lives { get; init; }
}
