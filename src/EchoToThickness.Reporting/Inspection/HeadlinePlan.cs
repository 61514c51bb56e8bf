using EchoToThickness.Procedures;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Entry <c>[[extremes.overrule]]</c>: a person's choice against the thinnest bound.</summary>
public sealed record HeadlinePlan
{
    /// <summary>Zone.</summary>
    [ProcedureKey(
        "zone",
        "Zone as the result names it (\"extrados\", \"straight ends\"); left out: the component as a whole."
    )]
    public string Zone { get; init; } = "";

    /// <summary>Label.</summary>
    [ProcedureKey("use", "Label of the bound to quote, as the result prints it.", Required = true)]
    public string Use { get; init; } = "";

    /// <summary>Reason.</summary>
    [ProcedureKey("reason", "Why, in a sentence.", Required = true)]
    public string Reason { get; init; } = "";

    /// <summary>By.</summary>
    [ProcedureKey("by", "Who decided.", Required = true)]
    public string By { get; init; } = "";
}
