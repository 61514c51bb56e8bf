using System.Globalization;
using EchoToThickness.Studies.Sources;

namespace EchoToThickness.Studies.Compare;

/// <summary>A set of cells that figures are given for.</summary>
/// <param name="Kind">Which cells of the source.</param>
/// <param name="Source">Name of the source.</param>
/// <param name="Values">Coordinates; empty for a source or band.</param>
/// <param name="BandMetres">Lower and upper edge of a band of true wall, upper edge not in it; null otherwise.</param>
public sealed record CompareGroup(
    GroupKind Kind,
    string Source,
    IReadOnlyList<SweepValue> Values,
    (double Low, double High)? BandMetres
)
{
    /// <summary>What was planted in the cells, in words; null where cells are not chosen by it.</summary>
    public string? Planted { get; init; }

    /// <summary>Coordinates in words; <c>all</c> for a source.</summary>
    public string Words =>
        Planted is not null ? Planted
        : BandMetres is { } band
            ? string.Create(CultureInfo.InvariantCulture, $"wall {band.Low * 1e3:0.###} to {band.High * 1e3:0.###} mm")
        : Values.Count == 0 ? "all"
        : string.Join(", ", Values.Select(v => $"{v.Key} {v.Text}"));
}
