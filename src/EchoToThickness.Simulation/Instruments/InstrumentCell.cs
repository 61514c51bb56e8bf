using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>What the instrument must know of one cell.</summary>
public readonly record struct InstrumentCell
{
    /// <summary>Line as it was acquired, counted from 0.</summary>
    public required int Line { get; init; }

    /// <summary>Scan position as it was acquired, counted from 0.</summary>
    public required int Scan { get; init; }

    /// <summary>Beam, counted from 0.</summary>
    public required int Beam { get; init; }

    /// <summary>Part of the line before this scan position, 0 to 1.</summary>
    public required double LineFraction { get; init; }

    /// <summary>True place along, as a true length on the outer surface, metres: the grain field lives there.</summary>
    public double AlongMetres { get; init; }

    /// <summary>True place around, metres.</summary>
    public double AroundMetres { get; init; }

    /// <summary>Time of the interface echo, seconds from the pulse; NaN without metal: no grain noise then.</summary>
    public double InterfaceSeconds { get; init; }

    /// <summary>Part of the aperture that is coupled; grain noise goes with its square.</summary>
    public double CoupledFraction { get; init; }

    /// <summary>Time of the transmitted pulse on the record's own clock, seconds: the trigger delay of this cell.</summary>
    public double DelaySeconds { get; init; }

    /// <summary>Gain added to the scene's own gain steps, decibels.</summary>
    public double GainDecibels { get; init; }

    /// <summary>Peak of a spike planted on purpose, fraction of full scale; 0: none.</summary>
    public double PlantedSpikeFraction { get; init; }
}
