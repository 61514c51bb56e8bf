using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>One <c>[[instrument.gain_step]]</c>: a change of gain from a scan position on.</summary>
public sealed record GainStep
{
    /// <summary>Lines it concerns, counted from 1; empty: all.</summary>
    [ProcedureKey("lines", "Lines it concerns, counted from 1; empty: all.")]
    public IReadOnlyList<int> Lines { get; init; } = [];

    /// <summary>Part of the line before it.</summary>
    [ProcedureKey("from", "Part of the line before it.", Dimension.Fraction, Minimum = 0, Maximum = 1)]
    public double FromFraction { get; init; } = 0.5;

    /// <summary>Part of the line at which the gain returns.</summary>
    [ProcedureKey("to", "Part of the line at which the gain returns.", Dimension.Fraction, Minimum = 0, Maximum = 1)]
    public double ToFraction { get; init; } = 1;

    /// <summary>Change of gain.</summary>
    [ProcedureKey("gain", "Change of gain.", Dimension.Decibel)]
    public double GainDecibels { get; init; } = 10;
}
