using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Drawings;

/// <summary>One <c>[[leave_out]]</c>: a rectangle that is not judged, such as an engraved mark.</summary>
public sealed record LeaveOut
{
    /// <summary>Why.</summary>
    [ProcedureKey("reason", "Why cells there are not judged; printed with results.", Required = true)]
    public string Reason { get; init; } = "";

    /// <summary>Centre along, metres.</summary>
    [ProcedureKey("along", "Centre along the scan axis.", Dimension.Length, Required = true)]
    public double AlongMetres { get; init; }

    /// <summary>Centre across, metres.</summary>
    [ProcedureKey("across", "Centre across the scan axis.", Dimension.Length, Required = true)]
    public double AcrossMetres { get; init; }

    /// <summary>Extent along, metres.</summary>
    [ProcedureKey("length", "Extent along.", Dimension.Length, Minimum = 1e-4, Maximum = 100, Required = true)]
    public double LengthMetres { get; init; }

    /// <summary>Extent across, metres.</summary>
    [ProcedureKey("width", "Extent across.", Dimension.Length, Minimum = 1e-4, Maximum = 100, Required = true)]
    public double WidthMetres { get; init; }
}
