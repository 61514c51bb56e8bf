using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>
/// Where a fact comes from: <c>{ attribute = "/ascans@rate", unit = "Hz" }</c>, <c>{ dataset = "/index_mm", unit = "mm" }</c>,
/// <c>{ value = "100 MHz" }</c>, or for positions <c>{ first = "0 mm", step = "1 mm" }</c>.
/// </summary>
public sealed record ValueSource
{
    /// <summary>Attribute: object path, at sign, name.</summary>
    [ProcedureKey(
        "attribute",
        "Attribute that holds the value: object path, '@', name ('/ascans@rate'; '@rate' for the file or group itself)."
    )]
    public string? Attribute { get; init; }

    /// <summary>Dataset path.</summary>
    [ProcedureKey("dataset", "Dataset that holds the value or values.")]
    public string? Dataset { get; init; }

    /// <summary>Constant with its unit.</summary>
    [ProcedureKey("value", "The value itself, with its unit ('100 MHz').")]
    public string? Value { get; init; }

    /// <summary>First position.</summary>
    [ProcedureKey("first", "First of evenly spaced positions, with its unit; needs step.")]
    public string? First { get; init; }

    /// <summary>Step between positions.</summary>
    [ProcedureKey("step", "Step of evenly spaced positions, with its unit; negative when they run backwards.")]
    public string? Step { get; init; }

    /// <summary>Unit of the stored number.</summary>
    [ProcedureKey(
        "unit",
        "Unit of the stored number ('mm', 'us', 'MHz'); left out where the file stores text with a unit or the fact has none."
    )]
    public string? Unit { get; init; }

    /// <summary>Factor ahead of the unit.</summary>
    [ProcedureKey("scale", "Stored numbers are multiplied by this before the unit counts (encoder counts to mm).")]
    public double Scale { get; init; } = 1;

    /// <summary>Whether the fact may be missing.</summary>
    [ProcedureKey(
        "optional",
        "The fact is left unknown when the file does not hold it, or (facts of the whole stack) holds more than one value of it."
    )]
    public bool Optional { get; init; }
}
