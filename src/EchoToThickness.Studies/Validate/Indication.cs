using EchoToThickness.Studies.Drawings;

namespace EchoToThickness.Studies.Validate;

/// <summary>What one scan shows of one hole or pit.</summary>
public sealed record Indication
{
    /// <summary>The scan.</summary>
    public required PlacedScan Scan { get; init; }

    /// <summary>Block and feature.</summary>
    public required string Feature { get; init; }

    /// <summary>The hole or pit.</summary>
    public required DrawingFeature Drawn { get; init; }

    /// <summary>Certified wall around it, metres.</summary>
    public required double AroundMetres { get; init; }

    /// <summary>Diameter of the mouth, metres: the root of length times width.</summary>
    public double DiameterMetres => Math.Sqrt(Drawn.LengthMetres * Drawn.WidthMetres);

    /// <summary>Depth, metres.</summary>
    public double DepthMetres => AroundMetres - Drawn.WallMetres;

    /// <summary>Whether it was found.</summary>
    public required bool Found { get; init; }

    /// <summary>Largest loss read over its mouth and within reach, metres: the signal; 0 or less where nothing reads thinner.</summary>
    public required double SignalMetres { get; init; }

    /// <summary>Smallest wall read in the indication, metres; NaN when not found.</summary>
    public required double WallMetres { get; init; }

    /// <summary>Area of the indication, square metres; NaN when not found.</summary>
    public required double AreaSquareMetres { get; init; }

    /// <summary>Diameter of a circle of that area, metres; NaN when not found.</summary>
    public double MeasuredDiameterMetres => Math.Sqrt(4 * AreaSquareMetres / Math.PI);

    /// <summary>Centre of the indication less centre of the feature, along, metres; NaN when not found.</summary>
    public required double OffAlongMetres { get; init; }

    /// <summary>The same across, metres.</summary>
    public required double OffAcrossMetres { get; init; }
}
