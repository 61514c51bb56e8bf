using EchoToThickness.Stacks;

namespace EchoToThickness.Grids;

/// <summary>What a grid says of itself before any cell is measured.</summary>
public sealed record GridHeader
{
    /// <summary>The stack that is measured.</summary>
    public required StackInfo Stack { get; init; }

    /// <summary>Layers asked for, in file order; status included.</summary>
    public required IReadOnlyList<GridLayer> Layers { get; init; }

    /// <summary>The procedure, complete with defaults, as TOML.</summary>
    public required string ProcedureText { get; init; }

    /// <summary>SHA-256 of <see cref="ProcedureText"/> in UTF-8, lower-case hexadecimal.</summary>
    public required string ProcedureSha256 { get; init; }

    /// <summary>Version of the program.</summary>
    public required string ProgramVersion { get; init; }

    /// <summary>Velocity used, metres per second, after all corrections.</summary>
    public required double VelocityMetresPerSecond { get; init; }

    /// <summary>Its standard uncertainty, metres per second.</summary>
    public required double VelocityUncertaintyMetresPerSecond { get; init; }

    /// <summary>Where the velocity came from, in words.</summary>
    public required string VelocitySource { get; init; }

    /// <summary>Corrections applied, one line each with its size.</summary>
    public IReadOnlyList<string> Corrections { get; init; } = [];

    /// <summary>Warnings about stack and procedure, one line each.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];
}
