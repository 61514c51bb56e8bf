using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[fault]]</c>: something that goes wrong on purpose.</summary>
public sealed record FaultEntry
{
    /// <summary>What goes wrong.</summary>
    [ProcedureKey("kind", "What goes wrong.", Required = true)]
    public FaultKind Kind { get; init; } = FaultKind.EncoderSlip;

    /// <summary>Lines it concerns, counted from 1; empty: all.</summary>
    [ProcedureKey("lines", "Lines it concerns, counted from 1; empty: all.")]
    public IReadOnlyList<int> Lines { get; init; } = [];

    /// <summary>Part of the line before it.</summary>
    [ProcedureKey("at", "Part of the line before it.", Dimension.Fraction, Minimum = 0, Maximum = 1)]
    public double AtFraction { get; init; } = 0.5;

    /// <summary>Its length.</summary>
    [ProcedureKey("size", "Its length.", Dimension.Length, Minimum = 0)]
    public double SizeMetres { get; init; } = 5e-3;

    /// <summary>Its level.</summary>
    [ProcedureKey("level", "Its level.", Dimension.Decibel)]
    public double LevelDecibels { get; init; } = 0;

    /// <summary>Region: centre along; left out: everywhere.</summary>
    [ProcedureKey("along", "Region: centre along; left out: everywhere.")]
    public SceneLength? Along { get; init; }

    /// <summary>Region: centre around; left out: everywhere.</summary>
    [ProcedureKey("around", "Region: centre around; left out: everywhere.")]
    public SceneLength? Around { get; init; }

    /// <summary>Region: extent along; left out: everywhere.</summary>
    [ProcedureKey("length", "Region: extent along; left out: everywhere.")]
    public SceneLength? Length { get; init; }

    /// <summary>Region: extent around; left out: everywhere.</summary>
    [ProcedureKey("width", "Region: extent around; left out: everywhere.")]
    public SceneLength? Width { get; init; }
}
