using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Section <c>[survey]</c>: when the scan is taken.</summary>
public sealed record SurveySection
{
    /// <summary>Years since the wall of the scene; every growth_per_year has worked that long.</summary>
    [ProcedureKey(
        "years",
        "Years since the wall of the scene; every growth_per_year has worked that long.",
        Minimum = 0,
        Maximum = 200
    )]
    public double Years { get; init; } = 0;
}
