using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>Section <c>[[factor]]</c>: something that scans differ in.</summary>
public sealed record FactorSettings
{
    /// <summary>Name.</summary>
    [ProcedureKey("name", "Name, as conditions use it.", Required = true)]
    public string Name { get; init; } = "";

    /// <summary>Role.</summary>
    [ProcedureKey("role", "What its levels stand for.")]
    public FactorRole Role { get; init; } = FactorRole.Random;
}
