namespace EchoToThickness.Reporting.Figures;

/// <summary>One panel of curves.</summary>
public sealed record CurvePanel
{
    /// <summary>Heading.</summary>
    public required string Title { get; init; }

    /// <summary>Label of the horizontal axis, with its unit.</summary>
    public required string XLabel { get; init; }

    /// <summary>Label of the vertical axis, with its unit.</summary>
    public required string YLabel { get; init; }

    /// <summary>Whether the vertical axis is logarithmic; values of zero or less are then left out.</summary>
    public bool Logarithmic { get; init; }

    /// <summary>Places named instead of numbered, from 0; null for numbers.</summary>
    public IReadOnlyList<string>? XNames { get; init; }

    /// <summary>The curves.</summary>
    public required IReadOnlyList<Curve> Curves { get; init; }

    /// <summary>Cramér-Rao bound at the same places; null when there is none.</summary>
    public Curve? Bound { get; init; }

    /// <summary>Level lines.</summary>
    public IReadOnlyList<double> Levels { get; init; } = [];
}
