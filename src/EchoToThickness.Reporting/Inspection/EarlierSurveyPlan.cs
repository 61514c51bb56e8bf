using EchoToThickness.Procedures;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Entry <c>[[change.earlier]]</c>: one earlier survey.</summary>
public sealed record EarlierSurveyPlan
{
    /// <summary>Grid.</summary>
    [ProcedureKey("grid", "Grid file of the survey; a relative path starts at the plan's folder.", Required = true)]
    public string Grid { get; init; } = "";

    /// <summary>Date.</summary>
    [ProcedureKey("date", "Day of the survey, as 2021-05-30.", Required = true)]
    public string Date { get; init; } = "";
}
