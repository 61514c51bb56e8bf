using EchoToThickness.Procedures;
using EchoToThickness.Stacks;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Origin of positions along in the words of the plan.</summary>
public enum PlanOrigin
{
    /// <summary>the start of the component</summary>
    [Choice("component start", "the start of the component (on an elbow the weld of its first straight end)")]
    ComponentStart = LineOrigin.ComponentStart,

    /// <summary>the middle of the bend</summary>
    [Choice("mid-bend", "the middle of the bend")]
    MidBend = LineOrigin.MidBend,

    /// <summary>a datum</summary>
    [Choice("datum", "the place given by datum")]
    Datum = LineOrigin.Datum,
}
